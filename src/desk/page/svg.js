// @ts-check
// Drawings of the desk set into the page. Several may stand on one page, so the ids of each are
// made its own.

import { unique } from './dom.js';

const SVG = 'http://www.w3.org/2000/svg';
const XLINK = 'http://www.w3.org/1999/xlink';
/** What a drawing may never bring along. */
const FOREIGN = new Set(['script', 'foreignObject', 'iframe', 'animate', 'set', 'handler', 'a']);

/** @param {keyof SVGElementTagNameMap} tag @param {Record<string, string | number>} attributes */
export function shape(tag, attributes) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  return element;
}

/** A drawing as an element, or null where it is none. @param {string} text @returns {SVGSVGElement | null} */
export function drawing(text) {
  const parsed = new DOMParser().parseFromString(text, 'image/svg+xml').documentElement;
  if (parsed.namespaceURI !== SVG || parsed.localName !== 'svg') return null;
  const svg = /** @type {SVGSVGElement} */ (/** @type {unknown} */ (document.importNode(parsed, true)));
  const prefix = `${unique('d')}-`;
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
      element.setAttribute(name, value.split(/\s+/).map((id) => prefix + id).join(' '));
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
 * Sets a drawing into a frame in one step, if it is another one than before.
 * @param {HTMLElement} frame @param {import('./types.js').Picture | null} picture
 * @param {string} label what it shows, for those who do not see it @param {number} scale CSS pixels on a mm
 */
export function place(frame, picture, label, scale) {
  const before = frame.firstElementChild;
  let svg = before instanceof SVGSVGElement && shown.get(frame) === picture?.svg ? before : null;
  if (!svg && picture) {
    svg = drawing(picture.svg);
    shown.set(frame, picture.svg);
  }
  if (!svg || !picture) {
    shown.delete(frame);
    frame.replaceChildren();
    return;
  }
  svg.setAttribute('width', (picture.width * scale).toFixed(2));
  svg.setAttribute('height', (picture.height * scale).toFixed(2));
  svg.setAttribute('role', 'img');
  svg.removeAttribute('aria-labelledby');
  svg.setAttribute('aria-label', label);
  if (svg !== before) frame.replaceChildren(svg);
}

/** @type {WeakMap<HTMLElement, string>} The text of the drawing that a frame holds. */
const shown = new WeakMap();
