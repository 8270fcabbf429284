// @ts-check
// One value of the layout in one control: a text, a number, a word out of several. Each shows
// beside it what is wrong with it, and what to do where somebody else has changed it.

import { attribute, button, fill, h, reveal, say, unique } from './dom.js';
import { same, word } from './paths.js';
import { hint, kind, options, plain } from './schema.js';

/** @typedef {import('./desk.js').Desk} Desk */
/** @typedef {import('./types.js').Path} Path */
/** @typedef {import('./schema.js').Node} Node */
/**
 * Where a control stands.
 * @typedef {object} Place
 * @property {Desk} desk
 * @property {Path} path
 * @property {Node} node what the schema says of it
 * @property {string} label
 * @property {() => boolean} [needed] whether it has to be told
 * @property {(to: unknown) => Path[]} [gone] what cannot stay beside a value of it
 */
/** @typedef {import('./dom.js').Part & { focus: () => void }} Control */

/**
 * What a number's field says: a number where it is one, else the text, so that the server can say what is wrong.
 * @param {string} text
 */
function number(text) {
  const trimmed = text.trim().replace(',', '.');
  if (trimmed === '') return undefined;
  return /^[-+]?(\d+\.?\d*|\.\d+)$/.test(trimmed) ? Number(trimmed) : text;
}

/** @param {string} text */
const words = (text) => (text === '' ? undefined : text);

/** A field of text or of a number. @param {Place} place @returns {Control} */
function textual(place) {
  const { desk, path, node } = place;
  const read = kind(node) === 'number' ? number : words;
  const input = h('input', {
    type: node.format === 'date' ? 'date' : 'text',
    autocomplete: 'off',
    spellcheck: 'false',
    inputmode: kind(node) === 'number' ? 'decimal' : null,
    oninput: () => desk.set(path, read(input.value)),
  });
  const list = node.words
    ? h(
        'datalist',
        { id: unique('words') },
        ...node.words.map((/** @type {string} */ value) => h('option', { value })),
      )
    : null;
  if (list) input.setAttribute('list', list.id);
  return row(
    place,
    input,
    () => {
      const value = desk.value(path);
      // What one is typing ("1.") is left alone as long as it means what is shown.
      if (!same(read(input.value), value))
        write(
          input,
          value === undefined ? '' : typeof value === 'object' ? JSON.stringify(value) : String(value),
        );
    },
    list,
  );
}

/**
 * Writes into a field and leaves the caret where it stood.
 * @param {HTMLInputElement | HTMLTextAreaElement} input
 * @param {string} text
 */
export function write(input, text) {
  if (input.value === text) return;
  const active = document.activeElement === input && input.type !== 'date';
  const end = active ? (input.selectionEnd ?? text.length) : 0;
  const after = input.value.length - end;
  input.value = text;
  if (active) input.setSelectionRange(Math.max(0, text.length - after), Math.max(0, text.length - after));
}

/** As high as what is written in it. @param {HTMLTextAreaElement} text */
export function grow(text) {
  if (CSS.supports('field-sizing', 'content')) return;
  text.style.height = 'auto';
  text.style.height = `${text.scrollHeight + 2}px`;
}

/** A word out of several. @param {Place} place @returns {Control} */
function worded(place) {
  const { desk, path, node } = place;
  const all =
    kind(node) === 'yes'
      ? [
          { label: 'yes', word: true },
          { label: 'no', word: false },
        ]
      : options(desk.schema, node);
  const select = h('select', {
    onchange: () => {
      const to = select.value === '' ? undefined : all[Number(select.value)]?.word;
      desk.set(path, to, place.gone?.(to));
    },
  });
  return row(place, select, () => {
    const value = desk.value(path);
    const index = all.findIndex((one) => one.word === value);
    show(place, select, all, value, index);
  });
}

/**
 * A choice with its entries as they are now, the one of the value chosen.
 * @param {Place} place
 * @param {HTMLSelectElement} select
 * @param {{ label: string }[]} all
 * @param {unknown} value
 * @param {number} index of the value among them, below 0 where it is none of them
 */
export function show(place, select, all, value, index) {
  offer(
    select,
    all.map((one) => one.label),
    usual(place.node, place.needed?.() ?? false),
    value !== undefined && index < 0 ? plain(value) : null,
  );
  select.value = value === undefined ? '' : index < 0 ? 'other' : String(index);
}

/** What the first entry of a choice says. @param {Node} node @param {boolean} needed */
function usual(node, needed) {
  if (node.default !== undefined) return `as usual: ${plain(node.default)}`;
  return needed ? 'choose …' : 'left out';
}

/**
 * The entries of a choice; `other` is a word that it does not know.
 * @param {HTMLSelectElement} select
 * @param {string[]} labels
 * @param {string} first
 * @param {string | null} other
 */
function offer(select, labels, first, other) {
  const wanted = [
    ['', first],
    ...labels.map((text, at) => [String(at), text]),
    ...(other === null ? [] : [['other', other]]),
  ];
  const there = [...select.options].map((one) => [one.value, one.text]);
  if (!same(there, wanted))
    select.replaceChildren(...wanted.map(([value, text]) => h('option', { value }, text)));
}

/** A value that cannot be otherwise. @param {Place} place @returns {Control} */
function fixed(place) {
  return row(place, h('output', {}, plain(place.node.const)), () => {});
}

/**
 * A control with its label, its hint and what is wrong with it.
 * @param {Place} place @param {HTMLElement} control @param {() => void} show
 * @param {HTMLElement | null} [more] stands below the control
 * @returns {Control}
 */
export function row(place, control, show, more = null) {
  const id = unique('field');
  const said = h('p', { class: 'hint', id: `${id}-hint` });
  const trouble = problems(place.desk, place.path, `${id}-wrong`);
  control.id = id;
  // A note may be a sentence; what is short has its hint beside it.
  const element = h(
    'div',
    { class: place.node.maxLength >= 500 ? 'row wide' : 'row', 'data-key': word(place.path) },
    h('label', { for: id }, place.label),
    h('div', { class: 'value' }, control, more, trouble.element),
    said,
  );
  return {
    element,
    focus: () => control.focus(),
    show: () => {
      show();
      const text = hint(
        place.node,
        (place.needed?.() ?? false) && place.desk.value(place.path) === undefined,
      );
      say(said, text);
      reveal(said, text !== '');
      trouble.show();
      describe(control, trouble.wrong(), text === '' ? [] : [said.id], trouble.element.id);
    },
  };
}

/** @param {HTMLElement} control @param {boolean} wrong @param {string[]} ids @param {string} troubleId */
export function describe(control, wrong, ids, troubleId) {
  attribute(control, 'aria-invalid', wrong ? 'true' : null);
  const all = wrong ? [troubleId, ...ids] : ids;
  attribute(control, 'aria-describedby', all.length > 0 ? all.join(' ') : null);
}

/**
 * What is wrong with a value, or what it is elsewhere by now.
 * @param {Desk} desk @param {Path} path @param {string} id
 */
export function problems(desk, path, id) {
  const element = h('div', { class: 'wrong', id, hidden: true });
  const now = h('p');
  const clash = h(
    'div',
    {},
    now,
    h(
      'p',
      { class: 'buttons' },
      button('Take that', () => desk.takeTheirs(path)),
      ' ',
      button('Keep mine', () => desk.keepMine(path)),
    ),
  );
  return {
    element,
    wrong: () => !element.hidden,
    show: () => {
      const mistakes = desk.mistakesAt(path);
      const conflict = desk.conflictAt(path);
      if (conflict)
        say(
          now,
          conflict.now === null || conflict.now === undefined
            ? 'This was removed meanwhile.'
            : `This was changed meanwhile. It is now: ${plain(conflict.now)}`,
        );
      const texts = mistakes.map((one) => (one.help ? `${one.message}; ${one.help}` : one.message));
      const there = [...element.children].filter((one) => one !== clash).map((one) => one.textContent);
      const kept = same(there, texts)
        ? [...element.children].filter((one) => one !== clash)
        : texts.map((text) => h('p', {}, text));
      fill(element, conflict ? [...kept, clash] : kept);
      reveal(element, texts.length > 0 || conflict !== null);
    },
  };
}

/** The control for a single value. @param {Place} place @returns {Control} */
export function single(place) {
  const type = kind(place.node);
  if (type === 'fixed') return fixed(place);
  return type === 'word' || type === 'yes' ? worded(place) : textual(place);
}
