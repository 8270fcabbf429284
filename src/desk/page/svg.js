// @ts-check
// Drawings of the desk set into the page. Several may stand on one page, so the ids of each are
// made its own.

import { attribute, unique } from './dom.js';

const SVG = 'http://www.w3.org/2000/svg';
const XLINK = 'http://www.w3.org/1999/xlink';
/** What a drawing may never bring along. */
const FOREIGN = new Set(['script', 'foreignObject', 'iframe', 'animate', 'set', 'handler', 'style', 'a']);

/** @param {keyof SVGElementTagNameMap} tag @param {Record<string, string | number>} attributes */
export function shape(tag, attributes) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  return element;
}

/**
 * A drawing as an element, or null where it is none.
 * @param {string} text @param {string} [prefix] of its ids
 * @returns {SVGSVGElement | null}
 */
export function drawing(text, prefix = `${unique('d')}-`) {
  const parsed = new DOMParser().parseFromString(text, 'image/svg+xml').documentElement;
  if (parsed.namespaceURI !== SVG || parsed.localName !== 'svg') return null;
  const svg = /** @type {SVGSVGElement} */ (/** @type {unknown} */ (document.importNode(parsed, true)));
  for (const element of [svg, ...svg.querySelectorAll('*')]) {
    if (FOREIGN.has(element.localName)) element.remove();
    else adopt(element, prefix);
  }
  svg.setAttribute('focusable', 'false');
  return svg;
}

/** @param {Element} element @param {string} prefix */
function adopt(element, prefix) {
  for (const { name, value } of [...element.attributes]) {
    if (name === 'id') {
      element.id = prefix + value;
    } else if (name === 'aria-labelledby' || name === 'aria-describedby') {
      element.setAttribute(
        name,
        value
          .split(/\s+/)
          .map((id) => prefix + id)
          .join(' '),
      );
    } else if (name === 'href' || name === 'xlink:href') {
      linked(element, name, value, prefix);
    } else if (name.startsWith('on')) {
      element.removeAttribute(name);
    } else if (value.includes('url(#')) {
      element.setAttribute(name, value.replaceAll('url(#', `url(#${prefix}`));
    }
  }
}

/** @param {Element} element @param {string} name @param {string} value @param {string} prefix */
function linked(element, name, value, prefix) {
  if (value.startsWith('#')) {
    if (name === 'href') element.setAttribute('href', `#${prefix}${value.slice(1)}`);
    else element.setAttributeNS(XLINK, 'xlink:href', `#${prefix}${value.slice(1)}`);
  } else if (!value.startsWith('data:image/')) {
    element.removeAttribute(name);
  }
}

/**
 * Sets a drawing into a frame. What is the same as before stays where it is: a photograph would
 * flicker if it were decoded anew with every letter that is typed.
 * @param {HTMLElement} frame @param {import('./types.js').Picture | null} picture
 * @param {string} label what it shows, for those who do not see it @param {number} scale CSS pixels on a mm
 */
export function place(frame, picture, label, scale) {
  const before = frame.firstElementChild;
  const known = before instanceof SVGSVGElement ? shown.get(frame) : undefined;
  const prefix = known?.prefix ?? `${unique('d')}-`;
  if (!picture) {
    frame.replaceChildren();
  } else if (before instanceof SVGSVGElement && known?.svg === picture.svg) {
    present(before, picture, label, scale);
  } else {
    const svg = drawing(picture.svg, prefix);
    if (!svg) return frame.replaceChildren();
    present(svg, picture, label, scale);
    if (before) renew(before, svg);
    else frame.replaceChildren(svg);
    shown.set(frame, { svg: picture.svg, prefix });
  }
}

/** @type {WeakMap<HTMLElement, { svg: string, prefix: string }>} The drawing that a frame holds. */
const shown = new WeakMap();

/**
 * @param {SVGSVGElement} svg
 * @param {import('./types.js').Picture} picture
 * @param {string} label
 * @param {number} scale
 */
function present(svg, picture, label, scale) {
  attribute(svg, 'width', (picture.width * scale).toFixed(2));
  attribute(svg, 'height', (picture.height * scale).toFixed(2));
  attribute(svg, 'role', 'img');
  attribute(svg, 'aria-labelledby', null);
  attribute(svg, 'aria-label', label);
}

/**
 * Makes what stands there like another, and leaves alone what is like it already.
 * @param {ChildNode} before
 * @param {ChildNode} after
 */
function renew(before, after) {
  if (before.nodeName !== after.nodeName) {
    before.replaceWith(after);
    return;
  }
  if (!(before instanceof Element) || !(after instanceof Element)) {
    if (before.textContent !== after.textContent) before.textContent = after.textContent;
    return;
  }
  for (const { name } of [...before.attributes]) if (!after.hasAttribute(name)) before.removeAttribute(name);
  for (const { namespaceURI, name, value } of [...after.attributes]) {
    if (before.getAttribute(name) !== value) before.setAttributeNS(namespaceURI, name, value);
  }
  const [olds, news] = [[...before.childNodes], [...after.childNodes]];
  olds.slice(news.length).forEach((old) => old.remove());
  news.forEach((child, at) => (at < olds.length ? renew(olds[at], child) : before.append(child)));
}
