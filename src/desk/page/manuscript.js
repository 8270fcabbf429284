// @ts-check
// The inscription as a manuscript, line under line, in the order of the plate. A line that has
// only just been begun is not in the file yet: a line there has words.

import { button, h, keep, reveal, say } from './dom.js';
import { findingsOfPart } from './findings.js';
import { line, measures } from './line.js';
import { word } from './paths.js';

/** @typedef {import('./desk.js').Desk} Desk */

/** What a plain divider and emblem begin as; their further keys are told beside them. */
const DIVIDER = { divider: 'rule' };
const EMBLEM = { emblem: 'bell', height: '10 mm' };

/** @param {Desk} desk */
export function manuscript(desk) {
  /** @type {ReturnType<typeof line>[]} */
  const parts = [];
  /** @type {number | null} Place of a line that is only begun. */
  let begun = null;
  const list = h('ol', { class: 'manuscript' });
  const lines = () => {
    const value = desk.value(['line']);
    return Array.isArray(value) ? value : [];
  };
  /** @type {import('./line.js').Manuscript} */
  const self = {
    desk,
    count: () => lines().length + (begun === null ? 0 : 1),
    index: (place) => (place === begun ? null : begun !== null && place > begun ? place - 1 : place),
    written: (place, text) => {
      const index = self.index(place);
      if (index !== null) desk.set(['line', index, 'text'], text);
      else if (text.trim() !== '') insert(place, { text });
    },
    beginAfter: (place) => {
      if (place === begun) return;
      const index = self.index(place) ?? 0;
      begun = index + 1;
      show();
      parts[begun]?.focus();
    },
    remove: (place) => {
      const index = self.index(place);
      if (index === null) begun = null;
      else if (lines().length > 1) void desk.change([{ do: 'remove', path: ['line', index] }]);
      show();
      const next = parts[Math.max(0, place - 1)];
      next?.focus();
      next?.caret(Number.MAX_SAFE_INTEGER);
    },
    move: (place, by) => {
      const index = self.index(place);
      if (index === null || index + by < 0 || index + by >= lines().length) return;
      begun = null;
      const caret = parts[place]?.caretAt() ?? 0;
      void desk.change([{ do: 'move', path: ['line', index], to: index + by }]);
      parts[index + by]?.focus();
      if (!lines()[index + by]?.divider && !lines()[index + by]?.emblem) parts[index + by]?.caret(caret);
    },
    left: (place) => {
      if (place !== begun) return;
      begun = null;
      // After the focus has arrived: what it goes to may stand below and would move.
      window.setTimeout(show);
    },
  };
  /** @param {number} index @param {unknown} entry */
  const insert = (index, entry) => {
    begun = null;
    void desk.change(
      [
        lines().length === 0
          ? { do: 'set', path: ['line'], to: [entry] }
          : { do: 'insert', path: ['line', index], to: entry },
      ],
      ['line', index, 'text'],
    );
  };
  const show = () => keep(list, parts, self.count(), (place) => line(self, place));
  const end = h(
    'p',
    { class: 'buttons' },
    button('Add a line', () => {
      begun = lines().length;
      show();
      parts[begun]?.focus();
    }),
    ' ',
    button('Add a divider', () => {
      insert(lines().length, DIVIDER);
      parts.at(-1)?.focus();
    }),
    ' ',
    button('Add an emblem', () => {
      insert(lines().length, EMBLEM);
      parts.at(-1)?.focus();
    }),
  );
  const help = h(
    'p',
    { class: 'hint' },
    'Enter breaks the line where you say; Ctrl+Enter begins a new one. Alt with the arrow keys moves a line up or down. In the margin: how high its capitals come out.',
  );
  const written = h('div', {}, help, list, end);
  const sent = fromFile(desk);
  const noticed = findingsOfPart(desk, 'inscription');
  return {
    element: h('div', {}, noticed.element, written, sent.element),
    show: () => {
      const file = desk.value(['wording']) !== undefined;
      reveal(written, !file);
      reveal(sent.element, file);
      if (file) sent.show();
      else show();
      noticed.show();
    },
  };
}

/** The way to wording that stays as it was sent. @param {Desk} desk */
export function wordingFile(desk) {
  const input = h('input', {
    id: 'wording-file',
    'data-key': word(['wording']),
    type: 'text',
    autocomplete: 'off',
    maxlength: '500',
  });
  const take = button('Take the wording from this file', () => {
    const name = input.value.trim();
    if (name === '') return;
    /** @type {import('./types.js').Change[]} */
    const changes = [{ do: 'set', path: ['wording'], to: name }];
    if (desk.value(['line']) !== undefined) changes.unshift({ do: 'remove', path: ['line'] });
    void desk.change(changes);
  });
  return {
    element: h(
      'div',
      {},
      h(
        'div',
        { class: 'row wide' },
        h('label', { for: 'wording-file' }, 'File of the wording'),
        h('div', { class: 'value' }, input),
        h(
          'p',
          { class: 'hint' },
          'The client’s text as they sent it, beside the layout: each of its lines is a line of the inscription, instead of those that stand here.',
        ),
      ),
      h('p', { class: 'buttons' }, take),
    ),
    show: () => {
      const there = desk.value(['wording']);
      if (document.activeElement !== input && typeof there === 'string') input.value = there;
    },
  };
}

/** Wording that comes from a file: shown as it came. @param {Desk} desk */
function fromFile(desk) {
  const said = h('p');
  const list = h('ol', { class: 'manuscript' });
  /** @type {{ element: HTMLElement, show: () => void }[]} */
  const parts = [];
  const write = button(
    'Write the lines here instead',
    () =>
      void desk.change([
        { do: 'remove', path: ['wording'] },
        {
          do: 'set',
          path: ['line'],
          to: (desk.bench.plaque?.lines ?? []).map((one) => ({ text: one.text })),
        },
      ]),
  );
  return {
    element: h('div', {}, said, list, h('p', { class: 'buttons' }, write)),
    show: () => {
      say(
        said,
        `The wording comes as it was sent, from ${desk.value(['wording'])}; its line breaks are kept.`,
      );
      keep(list, parts, desk.bench.plaque?.lines.length ?? 0, (at) => sentLine(desk, at));
      reveal(write, (desk.bench.plaque?.lines.length ?? 0) > 0);
    },
  };
}

/** @param {Desk} desk @param {number} at */
function sentLine(desk, at) {
  const text = h('p', { class: 'as-sent', dir: 'auto' });
  const margin = measures(desk, () => at);
  const why = h('ul', { class: 'why' });
  return {
    element: h(
      'li',
      { class: 'line', 'data-align': 'centre' },
      h('div', { class: 'wording' }, text),
      h('div', { class: 'beside' }, margin.element, why),
    ),
    show: () => {
      const line = desk.bench.plaque?.lines[at];
      say(text, line?.text ?? '');
      why.replaceChildren(...(line?.why ?? []).map((one) => h('li', {}, one)));
      reveal(why, (line?.why.length ?? 0) > 0);
      margin.show();
    },
  };
}
