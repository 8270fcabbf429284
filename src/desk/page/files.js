// @ts-check
// The files to hand over, by who reads them: the same bytes as the command line makes. Making them
// takes the server its time, so they are asked for when one comes to read of them, at rest.

import { h, reveal, rested, say, sentences } from './dom.js';
import { same } from './paths.js';
import { section } from './sections.js';
import { get } from './wire.js';

/** @typedef {import('./desk.js').Desk} Desk */
/** @typedef {import('./types.js').File} File */

/** The list follows the layout once it rests for so long, ms. */
const REST = 1500;

/** @param {Desk} desk */
export function files(desk) {
  const list = h('div', { class: 'files' });
  const said = h('p', { class: 'told', role: 'status' });
  const withheld = h('ul');
  const kept = h('div', { class: 'withheld' }, h('h3', {}, 'Withheld'), withheld);
  /** @type {File[]} */
  let shown = [];
  let loaded = -1;
  let near = false;
  const load = async () => {
    const { plaque, version } = desk.bench;
    if (!near || !plaque || loaded === version) return;
    if (shown.length === 0) say(said, 'The files are being made …');
    /** @type {import('./types.js').Files} */
    let found;
    try {
      found = await get(desk.address('files'));
    } catch (error) {
      say(said, error instanceof Error ? error.message : String(error));
      reveal(said, true);
      return;
    }
    if (found.version !== desk.bench.version) return later();
    loaded = version;
    if (!same(found.files, shown))
      list.replaceChildren(...byReader(found.files).map(([reader, some]) => group(desk, reader, some)));
    shown = found.files;
    reveal(said, false);
  };
  const later = rested(() => void load(), REST);
  const part = section('files', 'Files', [
    {
      element: h('div', {}, said, kept, list),
      show: () => {
        const plaque = desk.bench.plaque;
        if (plaque === null) say(said, 'There are no files while the layout cannot be understood.');
        reveal(said, plaque === null || shown.length === 0);
        reveal(list, plaque !== null);
        sentences(withheld, plaque?.withheld ?? []);
        reveal(kept, (plaque?.withheld.length ?? 0) > 0);
        if (near) later();
      },
    },
  ]);
  new IntersectionObserver(
    ([entry]) => {
      near = entry.isIntersecting;
      void load();
    },
    { rootMargin: '300px' },
  ).observe(part.element);
  return part;
}

/** @param {File[]} all @returns {[string, File[]][]} */
function byReader(all) {
  /** @type {Map<string, File[]>} */
  const groups = new Map();
  for (const file of all) groups.set(file.reader, [...(groups.get(file.reader) ?? []), file]);
  return [...groups];
}

/** @param {Desk} desk @param {string} reader @param {File[]} some */
function group(desk, reader, some) {
  return h(
    'div',
    { class: 'reader' },
    h('h3', {}, reader.charAt(0).toUpperCase() + reader.slice(1)),
    h(
      'ul',
      {},
      ...some.map((file) => {
        const address = desk.address(`file/${encodeURIComponent(file.name)}`);
        return h(
          'li',
          {},
          h('a', { href: address, target: '_blank', rel: 'noopener' }, file.name),
          ' ',
          h(
            'a',
            { href: `${address}?download`, 'aria-label': `Download ${file.name}`, class: 'second' },
            'download',
          ),
          h('span', { class: 'what' }, file.what),
        );
      }),
    ),
  );
}
