// @ts-check
// The plaque at the top of the sheet, at true size or larger, in view while one writes; beside it
// how much was noticed, undo and redo, and whether all is saved.

import { attribute, button, h, reveal, rested, say, sentences } from './dom.js';
import { place } from './svg.js';
import { onScale, scale } from './screen.js';

/** @typedef {import('./desk.js').Desk} Desk */

const SIZES = [
  ['1', 'true size'],
  ['1.5', '1½ times'],
  ['2', 'twice'],
  ['3', '3 times'],
  ['4', '4 times'],
  ['page', 'as wide as the page'],
];
const KEPT = 'ansata-view';
/** What changes as one types is read aloud once one rests, ms. */
const QUIET = 1200;

/** @param {Desk} desk @param {import('./dom.js').Part} noticed what was noticed, with links */
export function plaqueView(desk, noticed) {
  const frame = h('div', {
    class: 'frame',
    tabindex: '0',
    role: 'region',
    'aria-label': 'The plaque as it stands',
  });
  const fit = h('p', { class: 'fit' });
  const state = h('span', { class: 'state' });
  const undo = button('Undo', () => desk.step('undo'), { 'aria-keyshortcuts': 'Control+Z Meta+Z' });
  const redo = button('Redo', () => desk.step('redo'), {
    'aria-keyshortcuts': 'Control+Y Control+Shift+Z Meta+Shift+Z',
  });
  const size = h(
    'select',
    {
      id: 'view-size',
      onchange: () => {
        localStorage.setItem(KEPT, size.value);
        draw();
      },
    },
    ...SIZES.map(([value, text]) => h('option', { value }, text)),
  );
  size.value = localStorage.getItem(KEPT) ?? '1';
  if (size.selectedIndex < 0) size.value = '1';
  const live = h('p', { class: 'aside', 'aria-live': 'polite' });
  const mistakes = h('ul', { class: 'wrong' });
  const caption = h(
    'div',
    { class: 'caption' },
    h('span', { class: 'steps' }, undo, ' ', redo),
    state,
    h('span', { class: 'size' }, h('label', { for: 'view-size' }, 'Shown'), ' ', size),
  );
  const element = h(
    'section',
    { class: 'plaque', 'aria-labelledby': 'plaque-title' },
    h('h2', { id: 'plaque-title', class: 'aside' }, 'The plaque'),
    caption,
    frame,
    fit,
    mistakes,
    noticed.element,
    live,
  );

  let centred = '';
  const draw = () => {
    const front = desk.bench.plaque?.front ?? null;
    // Less the frame's own white, so that nothing has to be scrolled.
    const room = Math.max(200, frame.clientWidth - 26);
    const times = size.value === 'page' ? room / ((front?.width ?? 1) * scale()) : Number(size.value);
    reveal(frame, front !== null);
    place(frame, front, described(desk), scale() * times);
    // What is larger than its frame is seen from its middle, until it is scrolled.
    const now = `${times} ${front?.width} ${frame.clientWidth}`;
    if (now !== centred && front) frame.scrollLeft = (frame.scrollWidth - frame.clientWidth) / 2;
    centred = now;
  };
  let read = heights(desk);
  const aloud = rested(() => {
    const now = heights(desk);
    say(live, `${desk.state()}. ${otherwise(read, now)}`);
    read = now;
  }, QUIET);
  onScale(draw);
  window.addEventListener('resize', rested(draw, 100));
  room(element);
  let before = '';
  return {
    element,
    show: () => {
      const { plaque, mistakes: wrong, undo: canUndo, redo: canRedo } = desk.bench;
      const now = desk.state();
      say(state, now);
      attribute(state, 'class', now.startsWith('sav') ? 'state' : 'state unsaved');
      attribute(undo, 'aria-disabled', canUndo || desk.waiting.length > 0 ? null : 'true');
      attribute(redo, 'aria-disabled', canRedo ? null : 'true');
      say(fit, plaque ? plaque.fit : 'There is no plaque yet: the file cannot be understood.');
      sentences(
        mistakes,
        wrong.map(
          (one) =>
            `${one.line > 0 ? `Line ${one.line} of the file: ` : ''}${one.message}${one.help ? `; ${one.help}` : ''}`,
        ),
      );
      reveal(mistakes, wrong.length > 0);
      draw();
      noticed.show();
      const spoken = `${now}${heights(desk).join(' ')}`;
      if (before !== '' && spoken !== before) aloud();
      before = spoken;
    },
  };
}

/** What the drawing shows, for those who do not see it. @param {Desk} desk */
function described(desk) {
  const { plaque } = desk.bench;
  if (!plaque) return '';
  const rows = plaque.lines.flatMap((line) => (line.ornament ? [line.ornament] : line.rows));
  return `Plaque of ${plaque.size[0]} by ${plaque.size[1]} mm: ${rows.join(' / ')}`;
}

/** @param {Desk} desk */
const heights = (desk) => (desk.bench.plaque?.lines ?? []).map((line) => line.cap_height.toFixed(2));

/**
 * Which heights are otherwise than they were read aloud; many of them in one sentence.
 * @param {string[]} before
 * @param {string[]} now
 */
function otherwise(before, now) {
  const lines = now.flatMap((height, at) => (height === before[at] ? [] : [`line ${at + 1}: ${height} mm`]));
  if (lines.length > 3)
    return `Cap heights from ${Math.min(...now.map(Number)).toFixed(2)} to ${Math.max(...now.map(Number)).toFixed(2)} mm.`;
  return lines.length > 0 ? `Cap heights: ${lines.join(', ')}.` : '';
}

/** What has the focus is not hidden beneath the plaque. @param {HTMLElement} element */
function room(element) {
  new ResizeObserver(() => {
    const sticky = getComputedStyle(element).position === 'sticky';
    document.documentElement.style.scrollPaddingTop = sticky ? `${element.offsetHeight + 12}px` : '0px';
  }).observe(element);
}
