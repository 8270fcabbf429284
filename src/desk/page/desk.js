// @ts-check
// How the layout stands, and the way of every change to the server and back: one request at a
// time, newer values of the same field instead of older ones, nothing lost, nothing stale shown.

import { askCures, watch } from './news.js';
import { RefusedError, get, post } from './wire.js';
import { at, same, within, word } from './paths.js';
import { afterwards, folded, overlaid } from './pending.js';

/** @typedef {import('./types.js').Bench} Bench */
/** @typedef {import('./types.js').Answer} Answer */
/** @typedef {import('./types.js').Change} Change */
/** @typedef {import('./types.js').Mistake} Mistake */
/** @typedef {import('./types.js').Path} Path */
/** @typedef {{ change: Change, now: unknown }} Conflict A change, and what stood there instead. */
/**
 * Something to be sent.
 * @typedef {object} Job
 * @property {string} to what is asked: change, undo, sign …
 * @property {Change[]} changes
 * @property {string | null} stroke
 * @property {unknown} [body] what is sent where it is no change
 * @property {(answer: Answer | null) => void} done
 */

/** Another stroke begins after so long a rest, ms. */
const REST = 1000;
/** What puts other values into the file, so that what could not be saved before means nothing there. */
const REPLACING = new Set(['undo', 'redo', 'bring-back']);
/** What takes longer than this is told, ms: a word that comes and goes with every letter would only flicker. */
const SLOW = 300;
/** A desk that does not answer is asked again after so long, ms. */
const AGAIN = 2000;

/** A value that is not there, as the wire says it. @param {unknown} value */
const told = (value) => (value === undefined ? null : value);

/** Whether other values may stand at a path after it. @param {Job} job */
const rearranges = (job) => job.stroke === null || job.changes.some((one) => one.do === 'insert');

/** @param {Path} path @param {unknown} to @returns {Extract<Change, { do: 'set' | 'remove' }>} */
const fieldChange = (path, to) => (to === undefined ? { do: 'remove', path } : { do: 'set', path, to });

export class Desk {
  /** @param {string} name the layout's file name @param {any} schema @param {Bench} bench */
  constructor(name, schema, bench) {
    this.name = name;
    this.schema = schema;
    this.bench = bench;
    /** @type {any} What the page shows: the layout with all that is not saved yet. */
    this.values = bench.values;
    /** @type {Mistake[]} Why the waiting changes were not kept. */
    this.mistakes = [];
    /** @type {import('./types.js').Cures | null} */
    this.cures = null;
    this.closed = false;
    /** @type {Map<string, import('./types.js').Choice[]>} What may stand at a path, ready to be taken. */
    this.known = new Map();
    /** Whether the desk is no longer heard of. */
    this.silent = false;
    /** @type {string | null} What went wrong with something that does not wait. */
    this.notice = null;
    /** @type {Change[]} */ this.waiting = [];
    /** @type {Map<string, Conflict>} */ this.conflicts = new Map();
    /** @type {Job[]} */ this.queue = [];
    /** @type {Job | null} */ this.flight = null;
    /**
     * @type {Map<string, unknown>} What the file holds where something is being written, as it was shown; by path.
     */
    this.bases = new Map();
    /** @type {Set<() => void>} */ this.listeners = new Set();
    this.toldVersion = bench.version;
    this.stroke = { word: '', time: 0, count: 0, page: Math.random().toString(36).slice(2) };
    this.cureTimer = 0;
    /** Since when something is under way; 0 while nothing is. */
    this.since = 0;
    watch(this);
    askCures(this);
  }

  /** @param {string} rest */
  address(rest) {
    return `layout/${encodeURIComponent(this.name)}/${rest}`;
  }

  /** The value that is shown at a path. @param {Path} path */
  value(path) {
    return at(this.values, path);
  }

  /** What the file will hold at a path once all that is under way is in it. @param {Path} path */
  fileValue(path) {
    const moving = [this.flight, ...this.queue].some((job) => job !== null && rearranges(job));
    return moving ? this.value(path) : at(this.bench.values, path);
  }

  /** @param {() => void} listener */
  onShow(listener) {
    this.listeners.add(listener);
  }

  // Changes -------------------------------------------------------------------------------

  /**
   * A field gets a value, or is emptied.
   * @param {Path} path @param {unknown} to undefined removes the key
   * @param {Path[]} [gone] keys that cannot stay beside it
   */
  set(path, to, gone = []) {
    const changes = [fieldChange(path, to), ...gone.map((key) => fieldChange(key, undefined))];
    for (const change of changes) {
      const name = word(change.path);
      if (!this.bases.has(name)) this.bases.set(name, told(this.fileValue(change.path)));
      this.conflicts.delete(name);
    }
    const last = this.queue.at(-1);
    const lone = last?.to === 'change' && last.changes.length === 1 ? last.changes[0] : null;
    if (last && lone && (lone.do === 'set' || lone.do === 'remove') && same(lone.path, path)) {
      last.changes = changes;
      this.show();
    } else {
      this.send({ to: 'change', changes, stroke: this.strokeOf(word(path)), done: () => {} });
    }
  }

  /**
   * Changes that belong together.
   * @param {Change[]} changes
   * @param {Path} [field] what is written there next is undone with them in one step
   * @returns {Promise<Answer | null>}
   */
  change(changes, field) {
    if (!field) this.stroke.word = '';
    const stroke = field ? this.strokeOf(word(field)) : null;
    return new Promise((done) => this.send({ to: 'change', changes, stroke, done }));
  }

  /**
   * Something else that answers with how all stands.
   * @param {string} to
   * @param {unknown} [body]
   * @returns {Promise<Answer | null>}
   */
  ask(to, body = {}) {
    this.stroke.word = '';
    return new Promise((done) => this.send({ to, changes: [], stroke: null, body, done }));
  }

  /** @param {'undo' | 'redo'} which */
  step(which) {
    if (this.waiting.length > 0 || this.conflicts.size > 0) {
      this.forget();
      this.show();
      if (which === 'undo') return;
    }
    void this.ask(which);
  }

  /** Drops what could not be saved. */
  forget() {
    this.waiting = [];
    this.mistakes = [];
    this.conflicts.clear();
    if (!this.flight && this.queue.length === 0) this.bases.clear();
  }

  /** In a clash: the other value stays. @param {Path} path */
  takeTheirs(path) {
    this.conflicts.delete(word(path));
    this.bases.delete(word(path));
    this.show();
  }

  /** In a clash: one's own value after all. @param {Path} path */
  keepMine(path) {
    const conflict = this.conflicts.get(word(path));
    if (!conflict) return;
    this.conflicts.delete(word(path));
    this.bases.set(word(path), conflict.now);
    this.send({
      to: 'change',
      changes: [conflict.change],
      stroke: this.strokeOf(word(path)),
      done: () => {},
    });
  }

  /** @param {string} name */
  strokeOf(name) {
    const now = performance.now();
    if (this.stroke.word !== name || now - this.stroke.time > REST) this.stroke.count += 1;
    Object.assign(this.stroke, { word: name, time: now });
    return `${this.stroke.page}-${this.stroke.count}`;
  }

  // The way there and back ----------------------------------------------------------------

  /** @param {Job} job */
  send(job) {
    this.notice = null;
    this.queue.push(job);
    void this.pump();
    this.show();
  }

  /** @returns {Promise<void>} */
  async pump() {
    if (this.flight || this.closed) return;
    const job = this.queue.shift();
    if (!job) return this.idle();
    if (job.to === 'change') {
      const joined = folded(job.changes, this.waiting);
      Object.assign(job, { changes: joined.changes });
      this.waiting = joined.waiting;
      // Entries of lists have other places now: what was compared by its place is compared no more.
      if (rearranges(job)) this.bases.clear();
      if (job.changes.length === 0) {
        this.mistakes = [];
        job.done(null);
        return this.pump();
      }
    }
    this.flight = job;
    if (this.since === 0) {
      this.since = performance.now();
      window.setTimeout(() => this.show(), SLOW);
    }
    try {
      const answer = await post(this.address(job.to), this.body(job));
      this.flight = null;
      this.take(job, answer);
    } catch (error) {
      this.flight = null;
      this.fail(job, error);
    }
    this.show();
    void this.pump();
  }

  /** @param {Job} job */
  body(job) {
    if (job.to !== 'change') return job.body;
    /** @param {Change} change */
    const compared = (change) => {
      const base =
        change.do === 'set' || change.do === 'remove' ? this.bases.get(word(change.path)) : undefined;
      return base === undefined ? change : { ...change, was: base };
    };
    return {
      changes: job.stroke === null ? job.changes : job.changes.map(compared),
      waiting: this.waiting.map(compared),
      stroke: job.stroke,
    };
  }

  /** @param {Job} job @param {Answer} answer */
  take(job, answer) {
    this.accept(answer.bench);
    if (answer.kept === 'none') {
      if (this.refuse(job, answer)) return;
    } else {
      for (const change of job.changes) {
        if ('path' in change) this.settle(change.path);
      }
      if (answer.kept === 'all') {
        for (const change of this.waiting) if ('path' in change) this.settle(change.path);
        this.waiting = [];
      } else {
        this.waiting = job.changes.reduce(afterwards, this.waiting);
      }
      this.mistakes =
        answer.kept === 'all' ? [] : answer.mistakes.length > 0 ? answer.mistakes : this.mistakes;
      if (REPLACING.has(job.to)) this.forget();
    }
    job.done(answer);
  }

  /**
   * A change is in the file: what was written into it since then is compared with that.
   * @param {Path} path
   */
  settle(path) {
    const queued = new Set(
      this.queue.flatMap((job) => job.changes.flatMap((one) => ('path' in one ? [word(one.path)] : []))),
    );
    for (const name of [...this.bases.keys()]) {
      /** @type {Path} */
      const written = JSON.parse(name);
      if (!within(written, path)) continue;
      if (queued.has(name)) this.bases.set(name, told(at(this.bench.values, written)));
      else this.bases.delete(name);
    }
  }

  /** @param {Job} job @param {Answer} answer @returns {boolean} whether it is asked again */
  refuse(job, answer) {
    const { clash } = answer;
    const change = job.changes[0];
    if (clash) {
      const all = [...job.changes, ...this.waiting];
      const mine = all.find((one) => 'path' in one && same(one.path, clash.path)) ?? change;
      this.waiting = this.waiting.filter((one) => one !== mine);
      if (mine && 'path' in mine) this.conflicts.set(word(mine.path), { change: mine, now: clash.now });
      // What was asked for together with it has done nothing wrong.
      const rest = job.changes.filter((one) => one !== mine);
      if (rest.length > 0) this.queue.unshift({ ...job, changes: rest });
      return rest.length > 0;
    }
    if (
      job.to === 'change' &&
      (job.stroke !== null || job.changes.length === 1) &&
      change.do !== 'move' &&
      change.do !== 'text'
    ) {
      this.waiting.push(...job.changes);
      this.mistakes = answer.mistakes;
    } else if (job.to !== 'undo' && job.to !== 'redo') {
      this.notice = answer.mistakes[0]?.message ?? 'it could not be done';
    }
    return false;
  }

  /** @param {Job} job @param {unknown} error */
  fail(job, error) {
    if (error instanceof RefusedError) {
      this.notice = error.message;
      if (job.changes.length === 1 && job.changes[0].do === 'set') this.waiting.push(job.changes[0]);
      job.done(null);
    } else {
      // Nothing came back: it is asked again, and what was written stays where it is.
      this.notice = 'the desk does not answer; it is asked again';
      this.flight = job;
      window.setTimeout(() => {
        this.flight = null;
        this.notice = null;
        this.queue.unshift(job);
        void this.pump();
      }, AGAIN);
    }
  }

  /** @param {Bench} bench */
  accept(bench) {
    this.toldVersion = Math.max(this.toldVersion, bench.version);
    if (bench.version < this.bench.version) return;
    if (bench.version !== this.bench.version) this.cures = null;
    this.bench = bench;
  }

  /** Brings everything on the page up to date. */
  show() {
    const pending = [...this.waiting, ...[...this.conflicts.values()].map((one) => one.change)];
    if (this.flight) pending.push(...this.flight.changes);
    for (const job of this.queue) pending.push(...job.changes);
    this.values = overlaid(this.bench.values, pending);
    for (const listener of this.listeners) listener();
  }

  // What comes by itself ------------------------------------------------------------------

  /** @param {boolean} answers whether the desk is there */
  heard(answers) {
    if (this.silent === !answers) return;
    this.silent = !answers;
    this.show();
  }

  /** Nothing is under way: what somebody else has changed is fetched. */
  async idle() {
    if (this.since !== 0) {
      this.since = 0;
      this.show();
    }
    if (this.waiting.length === 0 && this.conflicts.size === 0) this.bases.clear();
    if (this.toldVersion > this.bench.version) await this.refresh();
    askCures(this);
  }

  /** How all stands, from the server. */
  async refresh() {
    /** @type {Bench | null} */
    const bench = await get(this.address('bench')).catch(() => null);
    if (bench === null) return;
    this.accept(bench);
    this.show();
  }

  /** Whether something would be lost if the page were left now. */
  unsaved() {
    return (
      this.flight !== null || this.queue.length > 0 || this.waiting.length > 0 || this.conflicts.size > 0
    );
  }

  // What is said ----------------------------------------------------------------------------

  /** Mistakes that speak of this value itself. @param {Path} path */
  mistakesAt(path) {
    const all = this.waiting.length > 0 ? [...this.mistakes, ...this.bench.mistakes] : this.bench.mistakes;
    return all.filter((mistake) => same(mistake.path, path));
  }

  /** Whether something at a path, or inside of it, is not saved. @param {Path} path */
  waitsAt(path) {
    return this.waiting.some((one) => 'path' in one && within(one.path, path));
  }

  /** @param {Path} path */
  conflictAt(path) {
    return this.conflicts.get(word(path)) ?? null;
  }

  /** How saving stands, in words. */
  state() {
    if (this.closed) return 'The desk has been closed: what is changed here now is not saved.';
    if (this.silent) return 'The desk does not answer: what is changed here is kept until it does.';
    if (this.notice) return `not saved: ${this.notice}`;
    if (this.since !== 0 && performance.now() - this.since >= SLOW) return 'saving …';
    if (this.conflicts.size > 0) return 'not saved: the same place was changed elsewhere';
    if (this.waiting.length > 0)
      return `not saved: ${this.mistakes[0]?.message ?? 'something is still missing'}`;
    if (this.bench.mistakes.length > 0) return 'saved; the file cannot be understood as it is';
    return 'saved';
  }
}
