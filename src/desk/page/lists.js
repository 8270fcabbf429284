// @ts-check
// Lists of the layout file: points and boxes, which always have so many entries, and those that
// are as long as one likes, of words or of tables.

import { button, h, keep, reveal, unique } from './dom.js';
import { describe, problems } from './controls.js';
import { word } from './paths.js';
import { hint, kind, label, resolved, seed } from './schema.js';

/** @typedef {import('./controls.js').Place} Place */
/** @typedef {import('./controls.js').Control} Control */
/** @typedef {import('./schema.js').Node} Node */
/**
 * How what stands in a list is made.
 * @typedef {object} Making
 * @property {(place: Place) => Control} control for any value
 * @property {(desk: import('./desk.js').Desk, path: import('./types.js').Path, node: Node) => Control} keys of a table
 */

/**
 * A value with parts of its own: its name, a button, what it is; below it the parts.
 * @param {Place} place @param {string} id @param {HTMLElement[]} buttons @param {HTMLElement} body
 */
export function block(place, id, buttons, body) {
  const trouble = problems(place.desk, place.path, `${id}-wrong`);
  const head = h(
    'div',
    { class: 'row' },
    h('span', { class: 'label', id }, place.label),
    h('div', { class: 'value' }, ...buttons, trouble.element),
    h('p', { class: 'hint' }, hint(place.node, false)),
  );
  return {
    element: h(
      'div',
      { class: 'block', role: 'group', 'aria-labelledby': id, 'data-key': word(place.path) },
      head,
      body,
    ),
    show: trouble.show,
  };
}

/** A list that always has so many entries: a point, a box. @param {Place} place @returns {Control} */
export function several(place) {
  const { desk, path, node } = place;
  const id = unique('several');
  const item = resolved(desk.schema, node.items);
  const inputs = Array.from({ length: node.minItems }, (_, at) =>
    h('input', {
      type: 'text',
      autocomplete: 'off',
      inputmode: item.type === 'number' ? 'decimal' : null,
      'aria-label': `${place.label}, ${at + 1} of ${node.minItems}`,
      oninput: () =>
        desk.set(path, inputs.every((one) => one.value.trim() === '') ? undefined : inputs.map(read)),
    }),
  );
  /** @param {HTMLInputElement} input */
  const read = (input) =>
    item.type === 'number' && /^[-+]?[\d.]+$/.test(input.value.trim()) ? Number(input.value) : input.value;
  const trouble = problems(desk, path, `${id}-wrong`);
  const said = h('p', { class: 'hint', id: `${id}-hint` }, hint(node, false));
  const element = h(
    'div',
    { class: 'row', role: 'group', 'aria-labelledby': id, 'data-key': word(path) },
    h('span', { class: 'label', id }, place.label),
    h('div', { class: 'value several' }, ...inputs, trouble.element),
    said,
  );
  return {
    element,
    focus: () => inputs[0].focus(),
    show: () => {
      const value = desk.value(path);
      inputs.forEach((input, at) => {
        const one = Array.isArray(value) ? value[at] : undefined;
        if (one === undefined ? input.value !== '' : read(input) !== one)
          input.value = one === undefined ? '' : String(one);
      });
      trouble.show();
      for (const input of inputs) describe(input, trouble.wrong(), [said.id], trouble.element.id);
    },
  };
}

/**
 * A list as long as one likes.
 * @param {Place} place @param {Making} making
 * @returns {Control}
 */
export function list(place, making) {
  const { desk, path, node } = place;
  const item = resolved(desk.schema, node.items);
  const one = entryName(place.label, item.description);
  /** @type {Control[]} */
  const parts = [];
  const body = h('div', { class: 'inner' });
  const add = button(`Add: ${one}`, () => {
    const there = desk.value(path);
    const entry = seed(desk.schema, item) ?? '';
    if (Array.isArray(there) && there.length > 0)
      void desk.change([{ do: 'insert', path: [...path, there.length], to: entry }]);
    else desk.set(path, [entry]);
    parts.at(-1)?.focus();
  });
  const outer = block(place, unique('list'), [add], body);
  return {
    element: outer.element,
    focus: () => add.focus(),
    show: () => {
      const value = desk.value(path);
      keep(body, parts, Array.isArray(value) ? value.length : 0, (index) =>
        entryOf(place, item, index, one, making),
      );
      reveal(body, parts.length > 0);
      outer.show();
    },
  };
}

/**
 * What an entry of a list is called: "old hole" of "Old holes", or as it is described.
 * @param {string} list
 * @param {string | undefined} described
 */
function entryName(list, described) {
  if (/[^s]s$/.test(list)) return list.slice(0, -1).toLowerCase();
  const words = (described ?? list).split(/[.:;,]/)[0].replace(/^(A|An|One) /, '');
  return (words.split(' ').length > 3 ? list : words).toLowerCase();
}

/**
 * One entry of a list, with the button that takes it away.
 * @param {Place} place
 * @param {Node} item
 * @param {number} index
 * @param {string} name
 * @param {Making} making
 * @returns {Control}
 */
function entryOf(place, item, index, name, { control, keys }) {
  const { desk } = place;
  const path = [...place.path, index];
  const title = `${name} ${index + 1}`;
  const isTable = kind(item) === 'table';
  const part = isTable
    ? keys(desk, path, item)
    : control({ desk, path, node: { ...item, description: undefined }, label: label(title) });
  const remove = button(
    'Remove',
    () => {
      const there = desk.value(place.path);
      if (Array.isArray(there) && there.length === 1) desk.set(place.path, undefined);
      else void desk.change([{ do: 'remove', path }]);
    },
    { 'aria-label': `Remove: ${title}` },
  );
  const element = isTable
    ? h(
        'div',
        { class: 'entry', role: 'group', 'aria-label': title },
        h('p', { class: 'entry-head' }, h('em', {}, label(title)), ' ', remove),
        part.element,
      )
    : h('div', { class: 'entry short' }, part.element, remove);
  return { ...part, element };
}
