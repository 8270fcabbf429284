// @ts-check
// How large a millimetre is on this screen. No browser knows it, so it is measured once with a
// bank card, whose width every bank keeps: 85.60 mm by ISO/IEC 7810, format ID-1.

import { button, h, reveal, say } from './dom.js';

const CARD = 85.6;
/** CSS's own millimetre, from which measuring begins: 96 px on 25.4 mm. */
const CSS_MM = 96 / 25.4;
const KEPT = 'ansata-px-per-mm';
const LATER = 'ansata-measure-later';

/** @type {Set<() => void>} */
const listeners = new Set();
let pxPerMm = Number(localStorage.getItem(KEPT)) || CSS_MM;

/** CSS pixels on a millimetre. */
export const scale = () => pxPerMm;

/** Whether this screen has been measured. */
export const measured = () => localStorage.getItem(KEPT) !== null;

/** @param {() => void} listener */
export const onScale = (listener) => listeners.add(listener);

/** The bar to be made as wide as a card, and the button that shows it again. */
export function measuring() {
  const bar = h('div', { class: 'card', 'aria-hidden': 'true' }, h('span', {}, '85.60 mm'));
  const range = h('input', {
    type: 'range',
    id: 'card-width',
    min: '180',
    max: '800',
    step: '1',
    'aria-describedby': 'card-how',
    oninput: () => draw(Number(range.value)),
  });
  const figure = h('output', { for: 'card-width' });
  /** @param {number} width */
  const draw = (width) => {
    bar.style.width = `${width}px`;
    say(figure, `${(width / CARD).toFixed(2)} dots on a millimetre`);
  };
  const keep = button('It is as wide as the card', () => {
    pxPerMm = Number(range.value) / CARD;
    localStorage.setItem(KEPT, String(pxPerMm));
    close();
    for (const listener of listeners) listener();
  });
  const skip = button('Not now', () => {
    localStorage.setItem(LATER, 'yes');
    close();
  });
  const sheet = h(
    'section',
    { class: 'measuring', 'aria-labelledby': 'card-title' },
    h('h2', { id: 'card-title' }, 'True size on this screen'),
    h(
      'p',
      { id: 'card-how' },
      'Hold a bank card against the bar and make the bar as wide as the card. The plaque is then shown as large as it will be. Once is enough.',
    ),
    h('div', { class: 'card-frame' }, bar),
    h('p', { class: 'row-plain' }, h('label', { for: 'card-width' }, 'Width of the bar'), range, figure),
    h('p', { class: 'buttons' }, keep, ' ', skip),
  );
  const open = button('Measure this screen', () => {
    reveal(sheet, true);
    reveal(open, false);
    range.focus();
  });
  const close = () => {
    reveal(sheet, false);
    reveal(open, true);
    open.focus({ preventScroll: true });
  };
  range.value = String(Math.round(pxPerMm * CARD));
  draw(Number(range.value));
  reveal(sheet, !measured() && localStorage.getItem(LATER) === null);
  reveal(open, sheet.hidden === true);
  return { sheet, open };
}
