// @ts-check
// A form made of the schema: every key of the layout file can be seen, set and taken away in it,
// also those that are new to this page.

import { button, fill, h, reveal, say, unique } from './dom.js';
import { row, show, single } from './controls.js';
import { take } from './choices.js';
import { block, list, several } from './lists.js';
import { same, withValue, word } from './paths.js';
import { keysOf } from './rules.js';
import { distinct, freeText, kind, label, optionOf, options, resolved, seed } from './schema.js';

/** @typedef {import('./controls.js').Place} Place */
/** @typedef {import('./controls.js').Control} Control */
/** @typedef {import('./dom.js').Part} Part */
/** @typedef {import('./desk.js').Desk} Desk */
/** @typedef {import('./types.js').Path} Path */
/** @typedef {import('./schema.js').Node} Node */

/** The control for any value. @param {Place} place @returns {Control} */
export function control(place) {
  const type = kind(place.node);
  if (type === 'table') return table(place);
  if (type === 'list') return always(place.node) ? several(place) : list(place, { control, keys });
  return type === 'choice' ? choice(place) : single(place);
}

/** Whether a list always has so many entries. @param {Node} node */
const always = (node) => node.minItems > 0 && node.minItems === node.maxItems;

/**
 * The keys of a table that stands in the file or may, as rows.
 * @param {Desk} desk @param {Path} path @param {Node} node
 * @param {{ only?: string[], but?: string[], first?: string[], labels?: Record<string, string> }} [which]
 * @returns {Control}
 */
export function keys(desk, path, node, which = {}) {
  const names = which.only ?? inOrder(node, which.first ?? node.required ?? []);
  const shown = names.filter((key) => node.properties[key] && !(which.but ?? []).includes(key));
  let rules = keysOf(node, {});
  const controls = shown.map((key) => ({
    key,
    part: control({
      desk,
      path: [...path, key],
      node: resolved(desk.schema, node.properties[key]),
      label: which.labels?.[key] ?? label(key),
      needed: () => rules.needed.has(key),
      gone: (to) => outcasts(desk, path, node, key, to),
    }),
  }));
  const away = h('p', { class: 'hint' });
  const element = h('div', { class: 'keys' }, ...controls.map((one) => one.part.element), away);
  return {
    element,
    focus: () => controls[0]?.part.focus(),
    show: () => {
      const value = desk.value(path) ?? {};
      rules = keysOf(node, typeof value === 'object' ? value : {});
      const hidden = [];
      for (const { key, part } of controls) {
        const barred = rules.barred.has(key) && !Object.hasOwn(value, key);
        reveal(part.element, !barred);
        if (barred) hidden.push(label(key).toLowerCase());
        else part.show();
      }
      say(away, `Not together with what is told now: ${hidden.join(', ')}.`);
      reveal(away, hidden.length > 0 && !which.only);
    },
  };
}

/**
 * What stands in a table and cannot stay once a key has another value.
 * @param {Desk} desk
 * @param {Path} path
 * @param {Node} node
 * @param {string} key
 * @param {unknown} to
 * @returns {Path[]}
 */
function outcasts(desk, path, node, key, to) {
  const value = withValue(desk.value(path) ?? {}, [key], to);
  const { barred } = keysOf(node, value);
  return Object.keys(value)
    .filter((other) => other !== key && barred.has(other))
    .map((other) => [...path, other]);
}

/**
 * Keys of a table, some before all others; a key that can only be one word is no question.
 * @param {Node} node
 * @param {string[]} first
 */
function inOrder(node, first) {
  const all = Object.keys(node.properties ?? {}).filter((key) => !('const' in node.properties[key]));
  return [...first.filter((key) => all.includes(key)), ...all.filter((key) => !first.includes(key))];
}

/**
 * A table within a table: it can be added and taken away as a whole.
 * @param {Place} place
 * @returns {Control}
 */
function table(place) {
  const { desk, path, node } = place;
  const name = place.label.toLowerCase();
  const add = button(
    'Add',
    () => {
      desk.set(path, seed(desk.schema, node));
      inner?.focus();
    },
    { 'aria-label': `Add: ${name}` },
  );
  const remove = button(
    'Remove',
    () => {
      desk.set(path, undefined);
      add.focus();
    },
    { 'aria-label': `Remove: ${name}` },
  );
  const body = h('div', { class: 'inner' });
  const outer = block(place, unique('table'), [add, remove], body);
  /** @type {Control | null} */
  let inner = null;
  return {
    element: outer.element,
    focus: () => (add.hidden ? inner?.focus() : add.focus()),
    show: () => {
      const there = desk.value(path) !== undefined;
      if (there && !inner) {
        inner = keys(desk, path, node);
        body.append(inner.element);
      }
      reveal(body, there);
      reveal(add, !there);
      reveal(remove, there);
      if (there) inner?.show();
      outer.show();
    },
  };
}

/** A value that is a word, or is written in one of several ways. @param {Place} place @returns {Control} */
function choice(place) {
  const { desk, path, node } = place;
  const free = freeText(desk.schema, node);
  if (free) return single({ ...place, node: free });
  const all = options(desk.schema, node);
  const select = h('select', { onchange: () => choose() });
  const body = h('div', { class: 'inner' });
  const amount = h('div', { class: 'amount' });
  let picked = -1;
  /** @type {Control | null} */
  let inner = null;
  const choose = () => {
    const one = all[select.value === '' ? -1 : Number(select.value)];
    // A screw or a pin as it is sold is more than its kind: the desk knows some of each.
    const ready =
      one?.node &&
      (desk.known.get(word(path)) ?? []).find(({ changes }) =>
        changes.some(
          (change) =>
            same(change.path, path) &&
            optionOf([one], change.to) === 0 &&
            distinct(one.node ?? {}, change.to),
        ),
      );
    if (ready) return take(desk, ready);
    const to = one?.node ? (seed(desk.schema, one.node) ?? '') : one?.word;
    desk.set(path, to, place.gone?.(to));
    if (one?.node) inner?.focus();
  };
  /** @param {number} index */
  const swap = (index) => {
    picked = index;
    const way = all[index]?.node;
    inner = way ? inside(place, way) : null;
    const plainly = way !== undefined && kind(way) !== 'table' && kind(way) !== 'list';
    body.replaceChildren(...(inner && !plainly ? [inner.element] : []));
    amount.replaceChildren(...(inner && plainly ? [inner.element] : []));
    reveal(body, inner !== null && !plainly);
    reveal(amount, inner !== null && plainly);
  };
  const head = row(
    place,
    select,
    () => {
      const value = desk.value(path);
      const index = optionOf(all, value);
      show(place, select, all, value, index);
      if (index !== picked) swap(index);
      inner?.show();
    },
    amount,
  );
  swap(-1);
  return { ...head, element: h('div', { class: 'choice' }, head.element, body) };
}

/** @param {Place} place @param {Node} node @returns {Control} */
function inside(place, node) {
  if (kind(node) === 'table') return keys(place.desk, place.path, node);
  return control({
    ...place,
    node: { ...node, description: undefined },
    label: `${place.label}, told`,
    needed: () => false,
  });
}

/**
 * Everything about a table that is not shown before it, folded away.
 * @param {string} title
 * @param {() => Part[]} make
 */
export function everythingElse(title, make) {
  /** @type {Part[]} */
  let parts = [];
  const body = h('div', { class: 'inner' });
  const element = h('details', { class: 'else', ontoggle: () => open() }, h('summary', {}, title), body);
  const open = () => {
    if (!element.open) return;
    if (parts.length === 0) {
      parts = make();
      fill(
        body,
        parts.map((part) => part.element),
      );
    }
    for (const part of parts) part.show();
  };
  return {
    element,
    show: () => {
      if (element.open) open();
    },
  };
}
