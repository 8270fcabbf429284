// @ts-check
// The files to hand over, by who reads them: the same bytes as the command line makes.

import { h, reveal, say, sentences } from './dom.js';
import { same } from './paths.js';
import { section } from './sections.js';

/** @typedef {import('./desk.js').Desk} Desk */
/** @typedef {import('./types.js').File} File */

/** @param {Desk} desk */
export function files(desk) {
  const list = h('div', { class: 'files' });
  const none = h('p', { class: 'told' });
  const withheld = h('ul');
  const kept = h('div', { class: 'withheld' }, h('h3', {}, 'Withheld'), withheld);
  /** @type {File[]} */
  let shown = [];
  const show = () => {
    const plaque = desk.bench.plaque;
    const all = plaque?.files ?? [];
    if (!same(all, shown)) list.replaceChildren(...byReader(all).map(([reader, some]) => group(desk, reader, some)));
    shown = all;
    say(none, 'There are no files while the layout cannot be understood.');
    reveal(none, plaque === null);
    sentences(withheld, plaque?.withheld ?? []);
    reveal(kept, (plaque?.withheld.length ?? 0) > 0);
  };
  return section('files', 'Files', [{ element: h('div', {}, none, kept, list), show }]);
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
  return h('div', { class: 'reader' }, h('h3', {}, reader.charAt(0).toUpperCase() + reader.slice(1)),
    h('ul', {}, ...some.map((file) => {
      const address = desk.address(`file/${encodeURIComponent(file.name)}`);
      return h('li', {}, h('a', { href: address, target: '_blank', rel: 'noopener' }, file.name), ' ',
        h('a', { href: `${address}?download`, 'aria-label': `Download ${file.name}`, class: 'second' }, 'download'),
        h('span', { class: 'what' }, file.what));
    })));
}
