// @ts-check
// The parts of the sheet that are forms, in the order in which a maker decides: for each the few
// keys that decide most, what is chosen by its look, and all the rest folded away.

import { button, h, reveal, say } from './dom.js';
import { choices } from './choices.js';
import { everythingElse, keys } from './form.js';
import { findingsOfPart } from './findings.js';
import { manuscript, wordingFile } from './manuscript.js';
import { pieceAt } from './schema.js';
import { onScale, scale } from './screen.js';
import { word } from './paths.js';
import { place } from './svg.js';
import { get } from './wire.js';

/** @typedef {import('./desk.js').Desk} Desk */
/** @typedef {import('./dom.js').Part} Part */

/**
 * A part of the sheet with its heading.
 * @param {string} id
 * @param {string} title
 * @param {Part[]} parts
 * @returns {Part}
 */
export function section(id, title, parts) {
  return {
    element: h(
      'section',
      { class: 'part', id, 'aria-labelledby': `${id}-title` },
      h('h2', { id: `${id}-title` }, title),
      h('div', { class: 'body' }, ...parts.map((part) => part.element)),
    ),
    show: () => {
      for (const part of parts) part.show();
    },
  };
}

/**
 * Keys of a table of the file, those that decide most.
 * @param {Desk} desk @param {string} table @param {string[]} only @param {Record<string, string>} [labels]
 */
export const deciding = (desk, table, only, labels) =>
  keys(desk, [table], pieceAt(desk.schema, [table]), { only, labels });

/**
 * All other keys of one table or several, folded away.
 * @param {Desk} desk @param {string} title @param {[string, string[]][]} tables each with the keys that stand elsewhere
 */
export const rest = (desk, title, tables) =>
  everythingElse(title, () =>
    tables.map(([table, but]) => keys(desk, [table], pieceAt(desk.schema, [table]), { but })),
  );

/** A table that may be left out as a whole. @param {Desk} desk @param {string} table @param {string} title */
const whole = (desk, table, title) =>
  everythingElse(title, () => [keys(desk, [], desk.schema, { only: [table] })]);

const PLATE = [
  'size',
  'shape',
  'corner',
  'rise',
  'points',
  'handles',
  'material',
  'finish',
  'margin',
  'border',
];
const ENGRAVING = ['process', 'cut', 'fill', 'read_from'];
const MOUNT = ['fixing', 'holes', 'inset'];
const FACE = [
  'shape',
  'size',
  'diameter',
  'top',
  'foot',
  'height',
  'points',
  'material',
  'thickness',
  'place',
];

/** @param {Desk} desk */
export const plate = (desk) =>
  section('plate', 'The plate', [
    findingsOfPart(desk, 'plate'),
    deciding(desk, 'plate', PLATE),
    rest(desk, 'Everything else about the plate', [['plate', PLATE]]),
    whole(desk, 'corners', 'Ornaments in the corners'),
  ]);

/** @param {Desk} desk */
export const inscription = (desk) =>
  section('inscription', 'The inscription', [
    manuscript(desk),
    everythingElse('The wording as a file', () => [wordingFile(desk)]),
  ]);

/** @param {Desk} desk */
export const lettering = (desk) =>
  section('lettering', 'The lettering', [
    findingsOfPart(desk, 'lettering'),
    deciding(desk, 'lettering', ['default'], { default: 'Lettering' }),
    choices(desk, {
      title: 'Choose it by its look, in your own wording',
      legend: 'Lettering of every line that names none',
      from: () => 'letterings',
      empty: 'There is nothing to show yet.',
      wide: 520,
    }),
    deciding(desk, 'engraving', ENGRAVING),
    rest(desk, 'Everything else about the lettering', [['lettering', ['default']]]),
    rest(desk, 'Everything else about how it is made', [['engraving', ENGRAVING]]),
    rest(desk, 'How heights are found', [['fit', []]]),
  ]);

/** @param {Desk} desk */
export function fixing(desk) {
  // Fixings as they are sold, for who chooses one by its kind.
  get(desk.address('fixings'))
    .then((all) => desk.known.set(word(['mount', 'fixing']), all))
    .catch(() => {});
  return section('fixing', 'Fixing', [
    told(() => desk.bench.plaque?.mount ?? ''),
    findingsOfPart(desk, 'fixing'),
    choices(desk, {
      title: 'Choose the fixing by its head and its hole',
      legend: 'What holds the plate',
      from: () => 'fixings',
      empty: 'There is nothing to choose.',
      wide: 460,
    }),
    deciding(desk, 'mount', MOUNT),
    rest(desk, 'Everything else about the fixing', [['mount', MOUNT]]),
  ]);
}

/** @param {Desk} desk */
export const face = (desk) =>
  section('face', 'The face', [
    findingsOfPart(desk, 'face'),
    drawn(desk),
    deciding(desk, 'face', FACE),
    choices(desk, {
      title: 'Choose the plate by what the face leaves',
      legend: 'Size of the plate',
      from: () => 'sizes',
      empty: 'Tell the size of the face and what it is made of first.',
      wide: 180,
    }),
    rest(desk, 'Everything else about the face', [['face', FACE]]),
    leaving(desk, 'face', 'Tell nothing of the face'),
  ]);

/**
 * The way to be rid of a table as a whole.
 * @param {Desk} desk
 * @param {string} table
 * @param {string} words
 * @returns {Part}
 */
function leaving(desk, table, words) {
  const element = h(
    'p',
    { class: 'buttons' },
    button(words, () => desk.set([table], undefined)),
  );
  return { element, show: () => reveal(element, desk.value([table]) !== undefined) };
}

/** A sentence that follows the layout. @param {() => string} words @returns {Part} */
function told(words) {
  const element = h('p', { class: 'told' });
  return {
    element,
    show: () => {
      say(element, words());
      reveal(element, words() !== '');
    },
  };
}

/** The face with the plate on it. @param {Desk} desk @returns {Part} */
function drawn(desk) {
  const frame = h('div', {
    class: 'frame face',
    tabindex: '0',
    role: 'region',
    'aria-label': 'The face with the plate on it',
  });
  const draw = () => {
    const picture = desk.bench.plaque?.face ?? null;
    reveal(frame, picture !== null);
    const inner = Math.max(200, frame.clientWidth - 26);
    const fits = picture ? Math.min(scale(), inner / picture.width) : 1;
    place(frame, picture, 'The face, the plate on it, and where the holes come', fits);
  };
  onScale(draw);
  window.addEventListener('resize', draw);
  return { element: frame, show: draw };
}
