// @ts-check
// The page: the folder, or the sheet of one layout.

import { attribute, h, reveal, say } from './dom.js';
import { describe, grow, problems, write } from './controls.js';
import { Desk } from './desk.js';
import { files } from './files.js';
import { noticed } from './findings.js';
import { folderView } from './folder.js';
import { word } from './paths.js';
import { photographs } from './photos.js';
import { plaqueView } from './plaque.js';
import { measuring } from './screen.js';
import { face, fixing, inscription, lettering, plate } from './sections.js';
import { proof } from './signing.js';
import { text } from './text.js';
import { versions } from './versions.js';
import { get } from './wire.js';

/** @param {string} name @param {any} schema @param {import('./types.js').Bench} bench */
function sheetOf(name, schema, bench) {
  const desk = new Desk(name, schema, bench);
  const screen = measuring();
  const head = header(desk, screen.open);
  const plaque = plaqueView(desk, noticed(desk));
  const forms = [plate, inscription, lettering, photographs, fixing, face, proof].map((part) => part(desk));
  const parts = [...forms, files(desk), versions(desk), text(desk)];
  const unread = h('p', { class: 'part' }, 'The file is no TOML as it is. Put it right below, or undo.');
  const main = h(
    'main',
    { class: 'sheet' },
    head.element,
    screen.sheet,
    plaque.element,
    unread,
    ...parts.map((part) => part.element),
  );
  const show = () => {
    const readable = desk.values !== null;
    reveal(unread, !readable);
    for (const part of forms) reveal(part.element, readable);
    for (const part of readable
      ? [head, plaque, ...parts]
      : [plaque, ...parts.filter((part) => !forms.includes(part))])
      part.show();
    attribute(document.body, 'data-saved', desk.unsaved() ? 'no' : 'yes');
    document.title = `${typeof desk.values?.title === 'string' ? desk.values.title : name} · ansata desk`;
  };
  desk.onShow(show);
  document.addEventListener('keydown', (event) => steps(event, desk));
  window.addEventListener('beforeunload', (event) => {
    if (desk.unsaved()) event.preventDefault();
  });
  document.body.replaceChildren(main);
  show();
}

/**
 * Undo and redo by the keys, also within fields: it is the layout that is undone.
 * @param {KeyboardEvent} event
 * @param {Desk} desk
 */
function steps(event, desk) {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  if (event.target instanceof Element && event.target.hasAttribute('data-own-undo')) return;
  const key = event.key.toLowerCase();
  const which =
    key === 'z' ? (event.shiftKey ? 'redo' : 'undo') : key === 'y' && !event.shiftKey ? 'redo' : null;
  if (which === null) return;
  event.preventDefault();
  desk.step(which);
}

/** @param {Desk} desk @param {HTMLElement} measure */
function header(desk, measure) {
  const title = h('h1', { class: 'aside' }, desk.name);
  const input = h('textarea', {
    id: 'title',
    'data-key': word(['title']),
    rows: '1',
    maxlength: '500',
    autocomplete: 'off',
    oninput: () => desk.set(['title'], input.value.replaceAll('\n', ' ')),
    onkeydown: (/** @type {KeyboardEvent} */ event) => {
      if (event.key === 'Enter') event.preventDefault();
    },
  });
  const trouble = problems(desk, ['title'], 'title-wrong');
  const element = h(
    'header',
    { class: 'head' },
    h(
      'p',
      { class: 'where' },
      h('a', { href: '?' }, 'All layouts'),
      h('span', { class: 'name' }, desk.name),
      measure,
    ),
    title,
    h('label', { for: 'title', class: 'aside' }, 'Title of the work'),
    input,
    trouble.element,
  );
  return {
    element,
    show: () => {
      const value = String(desk.value(['title']) ?? '');
      say(title, value || desk.name);
      write(input, value);
      grow(input);
      trouble.show();
      describe(input, trouble.wrong(), [], trouble.element.id);
    },
  };
}

async function begin() {
  const name = new URLSearchParams(location.search).get('layout');
  try {
    if (name === null) {
      document.title = 'Layouts · ansata desk';
      document.body.replaceChildren(folderView(await get('folder')));
    } else {
      const [schema, bench] = await Promise.all([
        get('schema'),
        get(`layout/${encodeURIComponent(name)}/bench`),
      ]);
      sheetOf(name, schema, bench);
    }
  } catch (error) {
    const said = h('p', { role: 'alert' }, error instanceof Error ? error.message : String(error));
    document.body.replaceChildren(
      h(
        'main',
        { class: 'sheet' },
        h('h1', {}, 'This cannot be shown'),
        said,
        h('p', {}, h('a', { href: '?' }, 'All layouts')),
      ),
    );
  }
  attribute(document.body, 'data-ready', 'yes');
}

void begin();
