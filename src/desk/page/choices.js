// @ts-check
// Things to choose by their look: a list that is read from top to bottom, numbered like a
// specimen, each with its picture. It is asked for when it is opened, since its pictures take
// their time, and asked for again once the layout rests.

import { attribute, fill, h, keep, reveal, rested, say, unique } from './dom.js';
import { get } from './wire.js';
import { holds } from './pending.js';
import { drawing } from './svg.js';

/** @typedef {import('./desk.js').Desk} Desk */
/** @typedef {import('./types.js').Choice} Choice */

/** Pictures follow the wording once it rests for so long, ms. */
const REST = 800;

/**
 * @param {Desk} desk
 * @param {{ title: string, legend: string, from: () => string, empty: string, wide?: number }} what `from`: the address;
 *   `wide`: the width that the widest picture has on the page, CSS pixels
 */
export function choices(desk, what) {
  const name = unique('choice');
  /** @type {Choice[]} */
  let all = [];
  /** @type {ReturnType<typeof entry>[]} */
  const parts = [];
  const list = h('ol', { class: 'specimens' });
  const waiting = h('p', { class: 'hint', role: 'status' });
  const set = h('fieldset', { class: 'choices' }, h('legend', {}, what.legend), list);
  const element = h(
    'details',
    {
      class: 'choose',
      ontoggle: () => {
        if (element.open) void load();
      },
    },
    h('summary', {}, what.title),
    waiting,
    set,
  );
  let loaded = '';
  const load = async () => {
    const version = `${desk.bench.version} ${what.from()}`;
    if (!element.open || version === loaded) return;
    if (all.length === 0) say(waiting, 'The pictures are being drawn …');
    try {
      const found = await get(desk.address(what.from()));
      all = found;
      loaded = version;
      say(waiting, found.length === 0 ? what.empty : '');
    } catch (error) {
      say(waiting, error instanceof Error ? error.message : String(error));
    }
    reveal(waiting, waiting.textContent !== '');
    draw();
  };
  const draw = () => {
    const widest = Math.max(1, ...all.map((one) => one.picture?.width ?? 0));
    const scale = Math.min((what.wide ?? 400) / widest, 12);
    keep(list, parts, all.length, (at) =>
      entry(
        desk,
        name,
        () => all[at],
        () => scale,
      ),
    );
    reveal(set, all.length > 0);
  };
  const later = rested(() => void load(), REST);
  return {
    element,
    show: () => {
      if (!element.open) return;
      for (const part of parts) part.show();
      later();
    },
  };
}

/** Chooses. @param {Desk} desk @param {Choice} choice */
export function take(desk, { changes, remove }) {
  void desk.change([
    ...remove
      .filter((path) => desk.value(path) !== undefined)
      .map((path) => /** @type {import('./types.js').Change} */ ({ do: 'remove', path })),
    ...changes.map(({ path, to }) => /** @type {import('./types.js').Change} */ ({ do: 'set', path, to })),
  ]);
}

/** @param {Desk} desk @param {string} group @param {() => Choice} choice @param {() => number} scale */
function entry(desk, group, choice, scale) {
  const id = unique('option');
  const radio = h('input', { type: 'radio', name: group, id, onchange: () => take(desk, choice()) });
  const title = h('label', { for: id });
  const about = h('span', { class: 'hint', id: `${id}-about` });
  const picture = h('div', { class: 'picture', 'aria-hidden': 'true', onclick: () => radio.click() });
  attribute(radio, 'aria-describedby', about.id);
  let before = '';
  return {
    element: h('li', {}, h('p', { class: 'named' }, radio, ' ', title, ' ', about), picture),
    show: () => {
      const one = choice();
      say(title, one.name);
      say(about, one.about);
      radio.checked = holds(desk.values, (path) => desk.value(path), one);
      const text = one.picture ? `${scale()} ${one.picture.svg}` : '';
      if (text !== before && one.picture) {
        const svg = drawing(one.picture.svg);
        svg?.setAttribute('width', (one.picture.width * scale()).toFixed(1));
        svg?.setAttribute('height', (one.picture.height * scale()).toFixed(1));
        fill(picture, [svg]);
      }
      before = text;
      reveal(picture, one.picture !== null);
    },
  };
}
