// @ts-check
// Earlier versions of the layout, which were kept as it was changed.

import { button, h, reveal, say } from './dom.js';
import { section } from './sections.js';
import { get } from './wire.js';

/** @typedef {import('./desk.js').Desk} Desk */
/** @typedef {import('./types.js').Entry} Entry */

/** When a version was kept, as the clock beside the reader has it. @param {Entry} entry */
function when(entry) {
  const time = Number(entry.about);
  return Number.isFinite(time) && entry.about !== ''
    ? new Date(time).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'medium' })
    : entry.about;
}

/** @param {Desk} desk */
export function versions(desk) {
  const list = h('ul', { class: 'versions' });
  const said = h('p', { class: 'hint', role: 'status' });
  const element = h(
    'details',
    { class: 'else', ontoggle: () => void load() },
    h('summary', {}, 'Show them'),
    said,
    list,
  );
  let loaded = -1;
  const load = async () => {
    if (!element.open || loaded === desk.bench.version) return;
    loaded = desk.bench.version;
    try {
      /** @type {Entry[]} */
      const all = await get(desk.address('versions'));
      say(said, all.length === 0 ? 'There are none yet.' : '');
      list.replaceChildren(
        ...all.map((entry) =>
          h(
            'li',
            {},
            h('span', {}, when(entry)),
            ' ',
            button('Bring back', () => void back(entry), {
              'aria-label': `Bring back the version of ${when(entry)}`,
            }),
          ),
        ),
      );
    } catch (error) {
      say(said, error instanceof Error ? error.message : String(error));
    }
    reveal(said, said.textContent !== '');
  };
  /** @param {Entry} entry */
  const back = async (entry) => {
    await desk.ask('bring-back', { name: entry.name });
    say(said, `The version of ${when(entry)} is back; Undo takes it away again.`);
    reveal(said, true);
  };
  return section('versions', 'Earlier versions', [
    {
      element,
      // The list is not renewed while one reads it, but when it is opened again.
      show: () => {},
    },
  ]);
}
