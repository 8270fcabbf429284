// @ts-check
// Photographs: laid beside the layout by drop or by a file dialogue, cropped on the whole picture,
// placed by small pictures; whose they are and who allowed them stands right there.

import { button, h, keep, reveal, say } from './dom.js';
import { choices } from './choices.js';
import { crop } from './crop.js';
import { findings, findingsOfPart } from './findings.js';
import { everythingElse, keys } from './form.js';
import { within } from './paths.js';
import { resolved } from './schema.js';
import { section } from './sections.js';
import { RefusedError, send } from './wire.js';

/** @typedef {import('./desk.js').Desk} Desk */

/** As the server takes them. */
const MOST_BYTES = 64 * 1024 * 1024;
const DECIDING = [
  'place',
  'width',
  'height',
  'shape',
  'corner',
  'proportion',
  'process',
  'permission',
  'credit',
];
/** Share of the plate's width that a new photograph takes: enough to see a face, and the lettering keeps most. */
const SHARE = 0.25;

/** @param {Desk} desk */
export function photographs(desk) {
  /** @type {ReturnType<typeof photograph>[]} */
  const parts = [];
  const list = h('div');
  const noticed = findingsOfPart(desk, 'photographs');
  const dropping = drop(desk);
  const all = () => {
    const value = desk.value(['photo']);
    return Array.isArray(value) ? value : [];
  };
  return section('photographs', 'Photographs', [
    {
      element: noticed.element,
      show: () => {
        if (all().length === 0) noticed.show();
        reveal(noticed.element, all().length === 0 && noticed.element.children.length > 0);
      },
    },
    { element: list, show: () => keep(list, parts, all().length, (at) => photograph(desk, at)) },
    dropping,
  ]);
}

/** @param {Desk} desk @param {number} index */
function photograph(desk, index) {
  const path = ['photo', index];
  const node = resolved(desk.schema, desk.schema.properties.photo.items);
  const noticed = findings(
    desk,
    (finding) =>
      within(finding.path, path) || (index === 0 && finding.path.length === 1 && finding.path[0] === 'photo'),
  );
  const title = h('h3');
  const size = h('p', { class: 'told' });
  const picture = crop(desk, index);
  const deciding = keys(desk, path, node, { only: DECIDING });
  const ways = choices(desk, {
    title: 'Choose its place by small pictures',
    legend: 'Ways to place it',
    from: () => `placings?photo=${index}`,
    empty: 'No way to place it was found.',
    wide: 260,
  });
  const rest = everythingElse('Everything else about this photograph', () => [
    keys(desk, path, node, { but: DECIDING }),
  ]);
  const remove = button('Remove this photograph', () => {
    const photos = desk.value(['photo']);
    if (Array.isArray(photos) && photos.length === 1) desk.set(['photo'], undefined);
    else void desk.change([{ do: 'remove', path }]);
  });
  return {
    element: h(
      'div',
      { class: 'photograph' },
      title,
      noticed.element,
      picture.element,
      size,
      deciding.element,
      ways.element,
      rest.element,
      h('p', { class: 'buttons' }, remove),
    ),
    show: () => {
      const now = desk.bench.plaque?.photos[index];
      say(title, String(desk.value([...path, 'file']) ?? `Photograph ${index + 1}`));
      say(
        size,
        now
          ? `${now.size[0].toFixed(1)} x ${now.size[1].toFixed(1)} mm on the plate, ${now.per_mm.toFixed(1)} pixels on a mm; the picture has ${now.pixels[0]} x ${now.pixels[1]}.`
          : '',
      );
      reveal(size, now !== undefined);
      for (const part of [noticed, picture, deciding, ways, rest]) part.show();
    },
  };
}

/** Where a file is let fall, or chosen. @param {Desk} desk */
function drop(desk) {
  const said = h('p', { role: 'status' });
  const input = h('input', {
    type: 'file',
    id: 'photo-file',
    accept: 'image/jpeg,image/png,image/tiff,image/webp',
    // Not every browser opens the dialogue by Enter.
    onkeydown: (/** @type {KeyboardEvent} */ event) => {
      if (event.key !== 'Enter') return;
      event.preventDefault();
      input.click();
    },
    onchange: () => void take(input.files),
  });
  const element = h(
    'div',
    {
      class: 'drop',
      ondragover: (/** @type {DragEvent} */ event) => {
        event.preventDefault();
        element.classList.add('over');
      },
      ondragleave: () => element.classList.remove('over'),
      ondrop: (/** @type {DragEvent} */ event) => {
        event.preventDefault();
        element.classList.remove('over');
        void take(event.dataTransfer?.files ?? null);
      },
    },
    h('label', { for: 'photo-file' }, 'Add a photograph: let a file fall here, or choose one'),
    input,
    h('p', { class: 'hint' }, 'JPEG, PNG, TIFF or WebP, up to 64 MiB. A copy is laid beside the layout.'),
    said,
  );
  /** @param {FileList | null} files */
  const take = async (files) => {
    const file = files?.[0];
    if (!file) return;
    if (file.size > MOST_BYTES) {
      say(
        said,
        `${file.name} is ${Math.ceil(file.size / 1024 / 1024)} MiB large; at most 64 MiB are taken. Save it smaller, as a JPEG.`,
      );
      return;
    }
    say(said, `${file.name} is being read …`);
    try {
      const stored = await send(desk.address(`photo?name=${encodeURIComponent(file.name)}`), file);
      const answer = await add(desk, stored.name);
      say(
        said,
        answer?.kept === 'none'
          ? (answer.mistakes[0]?.message ?? 'It could not be placed.')
          : `${stored.name} stands on the plate.`,
      );
    } catch (error) {
      say(said, error instanceof RefusedError ? error.message : 'The desk does not answer; try again.');
    }
    input.value = '';
  };
  return { element, show: () => {} };
}

/** @param {Desk} desk @param {string} file */
function add(desk, file) {
  const width = Math.max(3, Math.round((desk.bench.plaque?.size[0] ?? 120) * SHARE));
  const process = desk.bench.plaque?.photo_process;
  const entry = { file, place: 'left', width: `${width} mm`, ...(process ? { process } : {}) };
  const there = desk.value(['photo']);
  return desk.change([
    Array.isArray(there) && there.length > 0
      ? { do: 'insert', path: ['photo', there.length], to: entry }
      : { do: 'set', path: ['photo'], to: [entry] },
  ]);
}
