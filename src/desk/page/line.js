// @ts-check
// One line of the inscription: its wording as it is written, its measured height in the margin,
// why it is as high as it is, and what was noticed about it.

import { attribute, button, fill, h, reveal, say, sentences } from './dom.js';
import { choices } from './choices.js';
import { describe, grow, problems, write } from './controls.js';
import { everythingElse, keys } from './form.js';
import { findingsOfLine } from './findings.js';
import { word } from './paths.js';
import { resolved } from './schema.js';

/** @typedef {import('./desk.js').Desk} Desk */

/** What is most often told of a line, before all else. */
const FIRST = [
  'divider',
  'emblem',
  'lettering',
  'size',
  'cap_height',
  'height',
  'at_least',
  'at_most',
  'space',
  'align',
  'keep',
  'breaks',
];

/**
 * What a line asks of the manuscript that it stands in.
 * @typedef {object} Manuscript
 * @property {Desk} desk
 * @property {(place: number) => number | null} index of the line that stands at a place; null for one that is only begun
 * @property {(place: number, text: string) => void} written
 * @property {(place: number) => void} beginAfter
 * @property {(place: number) => void} remove
 * @property {(place: number, by: number) => void} move
 * @property {(place: number) => void} left the focus has gone elsewhere
 * @property {() => number} count
 */

/** @param {Manuscript} manuscript @param {number} place among the lines that are shown, from 0 */
export function line(manuscript, place) {
  const { desk } = manuscript;
  const index = () => manuscript.index(place) ?? 0;
  const number = place + 1;
  const trouble = problems(desk, ['line', place, 'text'], `line-${number}-wrong`);
  const text = h('textarea', {
    id: `line-${number}`,
    'data-key': word(['line', place, 'text']),
    rows: '1',
    'aria-label': `Line ${number}`,
    dir: 'auto',
    autocomplete: 'off',
    spellcheck: 'true',
    oninput: () => {
      manuscript.written(place, text.value);
      grow(text);
    },
    onkeydown: (/** @type {KeyboardEvent} */ event) => key(event),
  });
  const ornament = h('p', { class: 'ornament', tabindex: '-1' });
  const margin = measures(desk, index);
  const why = h('ul', { class: 'why' });
  const noticed = findingsOfLine(desk, () => manuscript.index(place) ?? -1);
  const actions = h(
    'p',
    { class: 'actions' },
    button('New line after', () => manuscript.beginAfter(place)),
    ' ',
    button('Up', () => manuscript.move(place, -1), { 'aria-label': `Move line ${number} up` }),
    ' ',
    button('Down', () => manuscript.move(place, 1), { 'aria-label': `Move line ${number} down` }),
    ' ',
    button('Remove', () => manuscript.remove(place), { 'aria-label': `Remove line ${number}` }),
  );
  const more = everythingElse(`More about line ${number}`, () => {
    const node = resolved(desk.schema, desk.schema.properties.line.items);
    const looks = choices(desk, {
      title: 'Choose its lettering by its look',
      legend: `Lettering of line ${number} alone`,
      from: () => `letterings?line=${index()}`,
      empty: 'There is nothing to show.',
      wide: 480,
    });
    return [looks, keys(desk, ['line', place], node, { but: ['text'], first: FIRST })];
  });
  const wording = h('div', { class: 'wording' }, text, ornament, trouble.element);
  const element = h(
    'li',
    {
      class: 'line',
      onfocusout: (/** @type {FocusEvent} */ event) => {
        if (!(event.relatedTarget instanceof Node) || !element.contains(event.relatedTarget))
          manuscript.left(place);
      },
    },
    wording,
    h('div', { class: 'beside' }, margin.element, why, noticed.element),
    h('div', { class: 'line-more' }, more.element, actions),
  );

  /** @param {KeyboardEvent} event */
  const key = (event) => {
    const step = event.key === 'ArrowUp' ? -1 : event.key === 'ArrowDown' ? 1 : 0;
    if (event.key === 'Enter' && (event.ctrlKey || event.metaKey)) manuscript.beginAfter(place);
    else if (event.altKey && step !== 0) manuscript.move(place, step);
    else if (event.key === 'Backspace' && text.value === '' && manuscript.count() > 1)
      manuscript.remove(place);
    else return;
    event.preventDefault();
  };
  return {
    element,
    focus: () => (text.hidden ? ornament : text).focus(),
    /** @param {number} caret */
    caret: (caret) => {
      text.focus();
      text.setSelectionRange(caret, caret);
    },
    caretAt: () => text.selectionStart,
    show: () => {
      const at = manuscript.index(place);
      const value = at === null ? {} : (desk.value(['line', at]) ?? {});
      const drawn = value.divider !== undefined || value.emblem !== undefined;
      reveal(text, !drawn);
      reveal(ornament, drawn);
      if (drawn) say(ornament, named(value));
      else if (at !== null || text.value.trim() !== '') write(text, String(value.text ?? ''));
      attribute(text, 'lang', value.language ?? desk.value(['lettering', 'language']));
      attribute(element, 'data-align', value.align ?? 'centre');
      grow(text);
      if (at !== null) {
        trouble.show();
        more.show();
      }
      reveal(more.element, at !== null);
      describe(text, at !== null && trouble.wrong(), [], trouble.element.id);
      margin.show();
      const now = at === null ? undefined : desk.bench.plaque?.lines[at];
      sentences(why, now?.why ?? []);
      reveal(why, (now?.why.length ?? 0) > 0);
      noticed.show();
    },
  };
}

/** What a line without words is called. @param {any} value */
function named(value) {
  if (value.divider !== undefined) return `Divider: ${value.divider}`;
  return `Emblem: ${typeof value.emblem === 'string' ? value.emblem : (value.emblem?.file ?? 'a drawing of your own')}`;
}

/**
 * The margin of a line: its height, its lettering, its rows.
 * @param {Desk} desk
 * @param {() => number} index
 */
export function measures(desk, index) {
  const height = h('b');
  const what = h('span', { class: 'aside' });
  const unit = h('span', {}, ' mm');
  const set = h('p', { class: 'set' });
  const rows = h('ol', { class: 'rows', dir: 'auto' });
  const element = h('div', { class: 'margin' }, h('p', { class: 'measure' }, what, height, unit), set, rows);
  return {
    element,
    show: () => {
      const line = desk.bench.plaque?.lines[index()];
      element.classList.toggle('empty', !line);
      if (!line) return;
      say(what, line.ornament ? 'Height ' : 'Cap height ');
      say(height, line.cap_height.toFixed(2));
      say(set, line.ornament ? '' : line.lettering);
      const broken = line.rows.length > 1 && line.rows.join('\n') !== line.text;
      sentences(rows, broken ? line.rows : []);
      fill(element, [element.firstElementChild, set.textContent ? set : null, broken ? rows : null]);
    },
  };
}
