// @ts-check
// The whole picture with what is shown of it, and the point that the crop is centred on: moved by
// the pointer, by the arrow keys, nearer and farther by + and -.

import { attribute, h, reveal } from './dom.js';
import { at } from './paths.js';
import { shape } from './svg.js';

/** @typedef {import('./desk.js').Desk} Desk */

const STEP = 0.01;
const FAR = 0.05;
const NEARER = 1.1;
/** Height of the picture on the page at most, rem. */
const HIGHEST = 24;

/** @param {number} share */
const within01 = (share) => Math.round(Math.min(1, Math.max(0, share)) * 1000) / 1000;

/** @param {Desk} desk @param {number} index of the photograph */
export function crop(desk, index) {
  const focusPath = ['photo', index, 'focus'];
  const zoomPath = ['photo', index, 'zoom'];
  const image = h('img', { alt: '', draggable: 'false' });
  const svg = /** @type {SVGSVGElement} */ (
    shape('svg', { preserveAspectRatio: 'none', 'aria-hidden': 'true' })
  );
  const veil = shape('path', { class: 'veil', 'fill-rule': 'evenodd' });
  const box = shape('rect', { class: 'box' });
  const halo = shape('circle', { class: 'halo' });
  const point = shape('circle', { class: 'point' });
  svg.append(veil, box, halo, point);
  const picture = h(
    'div',
    {
      class: 'crop',
      tabindex: '0',
      role: 'group',
      'aria-roledescription': 'crop of the photograph',
      onpointerdown: (/** @type {PointerEvent} */ event) => {
        picture.setPointerCapture(event.pointerId);
        picture.focus({ preventScroll: true });
        drag(event);
      },
      onpointermove: (/** @type {PointerEvent} */ event) => {
        if (picture.hasPointerCapture(event.pointerId)) drag(event);
      },
      onkeydown: (/** @type {KeyboardEvent} */ event) => key(event),
    },
    image,
    svg,
  );
  const hint = h(
    'p',
    { class: 'hint', id: `crop-${index}-hint` },
    'Drag the point, or move it with the arrow keys (Shift: farther); + and - go nearer and farther. Everything can also be told in numbers below.',
  );
  const element = h('div', { class: 'cropping', hidden: true }, picture, hint);
  attribute(picture, 'aria-describedby', hint.id);

  /** @returns {[number, number]} */
  const focus = () => {
    const value = desk.value(focusPath);
    return Array.isArray(value) && value.every((one) => typeof one === 'number')
      ? [value[0], value[1]]
      : [0.5, 0.5];
  };
  /** @param {number} x @param {number} y */
  const move = (x, y) => desk.set(focusPath, [within01(x), within01(y)]);
  /** @param {PointerEvent} event */
  const drag = (event) => {
    const frame = picture.getBoundingClientRect();
    move((event.clientX - frame.left) / frame.width, (event.clientY - frame.top) / frame.height);
    event.preventDefault();
  };
  /** @param {KeyboardEvent} event */
  const key = (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const step = event.shiftKey ? FAR : STEP;
    const [x, y] = focus();
    const zoom = Number(desk.value(zoomPath) ?? 1);
    if (event.key === 'ArrowLeft') move(x - step, y);
    else if (event.key === 'ArrowRight') move(x + step, y);
    else if (event.key === 'ArrowUp') move(x, y - step);
    else if (event.key === 'ArrowDown') move(x, y + step);
    else if (event.key === '+' || event.key === '=') nearer(zoom * NEARER);
    else if (event.key === '-') nearer(zoom / NEARER);
    else return;
    event.preventDefault();
  };
  /** @param {number} zoom */
  const nearer = (zoom) => {
    const rounded = Math.round(Math.min(20, Math.max(1, zoom)) * 100) / 100;
    desk.set(zoomPath, rounded === 1 ? undefined : rounded);
  };
  return { element, show: () => draw() };

  function draw() {
    const photo = desk.bench.plaque?.photos[index];
    reveal(element, photo !== undefined);
    if (!photo) return;
    // By what the file holds: what is still on its way there would be answered by the picture
    // before it, or by none.
    const file = String(at(desk.bench.values, ['photo', index, 'file']) ?? '');
    attribute(image, 'src', desk.address(`photo/${index}.png?file=${encodeURIComponent(file)}`));
    const [width, height] = photo.pixels;
    // The frame stands before the picture has come, so that nothing moves when it does.
    picture.style.aspectRatio = `${width} / ${height}`;
    picture.style.width = `min(100%, ${((HIGHEST * width) / height).toFixed(2)}rem)`;
    const [left, top, right, bottom] = photo.crop;
    const [x, y] = focus();
    attribute(svg, 'viewBox', `0 0 ${width} ${height}`);
    attribute(
      veil,
      'd',
      `M0 0H${width}V${height}H0ZM${left * width} ${top * height}H${right * width}V${bottom * height}H${left * width}Z`,
    );
    for (const [name, value] of Object.entries({
      x: left * width,
      y: top * height,
      width: (right - left) * width,
      height: (bottom - top) * height,
    }))
      attribute(box, name, value);
    for (const dot of [halo, point]) {
      attribute(dot, 'cx', x * width);
      attribute(dot, 'cy', y * height);
    }
    attribute(halo, 'r', width / 50);
    attribute(point, 'r', width / 90);
    attribute(
      picture,
      'aria-label',
      `Photograph ${index + 1}: centred on ${Math.round(x * 100)} % from the left, ${Math.round(y * 100)} % from the top, zoom ${desk.value(zoomPath) ?? 1}`,
    );
  }
}
