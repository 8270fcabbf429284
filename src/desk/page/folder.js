// @ts-check
// The folder: its layouts, and how a new one is begun.

import { h, say } from './dom.js';
import { post } from './wire.js';

/** @typedef {import('./types.js').Folder} Folder */

/** The address of a layout's sheet. @param {string} name */
const sheet = (name) => `?layout=${encodeURIComponent(name)}`;

/** @param {Folder} folder */
export function folderView(folder) {
  const list =
    folder.layouts.length === 0
      ? h('p', { class: 'told' }, 'There is no layout in this folder yet.')
      : h(
          'ul',
          { class: 'layouts' },
          ...folder.layouts.map((entry) =>
            h(
              'li',
              {},
              h('a', { href: sheet(entry.name) }, entry.about || entry.name),
              ' ',
              h('span', { class: 'what' }, entry.name),
            ),
          ),
        );
  return h(
    'main',
    { class: 'sheet' },
    h(
      'header',
      { class: 'head' },
      h('h1', {}, 'Layouts'),
      h('p', { class: 'hint' }, `In the folder ${folder.folder}`),
    ),
    h(
      'section',
      { class: 'part', 'aria-labelledby': 'there' },
      h('h2', { id: 'there' }, 'Go on with one'),
      h('div', { class: 'body' }, list),
    ),
    beginning(folder),
  );
}

/** @param {Folder} folder */
function beginning(folder) {
  const title = h('input', {
    id: 'new-title',
    type: 'text',
    required: true,
    maxlength: '500',
    autocomplete: 'off',
  });
  const from = h(
    'select',
    { id: 'new-from' },
    h('option', { value: '' }, 'blank: a small plate with one line'),
    ...folder.starters.map((one) => h('option', { value: one.name }, one.about || one.name)),
  );
  const said = h('p', { class: 'wrong', role: 'alert' });
  const begin = async () => {
    try {
      /** @type {import('./types.js').Stored} */
      const stored = await post(
        'new',
        from.value === '' ? { title: title.value.trim() } : { title: title.value.trim(), from: from.value },
      );
      location.href = sheet(stored.name);
    } catch (error) {
      say(said, error instanceof Error ? error.message : String(error));
    }
  };
  return h(
    'section',
    { class: 'part', 'aria-labelledby': 'begin' },
    h('h2', { id: 'begin' }, 'Begin a new one'),
    h(
      'form',
      {
        class: 'body',
        onsubmit: (/** @type {Event} */ event) => {
          event.preventDefault();
          void begin();
        },
      },
      h(
        'div',
        { class: 'row wide' },
        h('label', { for: 'new-title' }, 'What the work is called'),
        h('div', { class: 'value' }, title),
        h('p', { class: 'hint' }, 'The file’s name is made of it.'),
      ),
      h(
        'div',
        { class: 'row wide' },
        h('label', { for: 'new-from' }, 'Begin from'),
        h('div', { class: 'value' }, from),
      ),
      h('p', { class: 'buttons' }, h('button', { type: 'submit' }, 'Begin')),
      said,
    ),
  );
}
