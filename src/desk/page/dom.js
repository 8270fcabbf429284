// @ts-check
// Elements made and kept up to date. Nothing here ever parses text as HTML: wording, file names
// and messages are only ever text.

/** @typedef {Node | string | null | undefined | false} Child */
/**
 * @typedef {{ element: HTMLElement, show: () => void }} Part A piece of the page that brings itself up to date.
 */

let count = 0;

/** An id that no other element of the page has. @param {string} word */
export const unique = (word) => `${word}-${(count += 1)}`;

/**
 * An element. Keys that begin with `on` are listeners, null and false leave an attribute out.
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, unknown>} [attributes]
 * @param {...Child} children
 * @returns {HTMLElementTagNameMap[T]}
 */
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith('on')) {
      element.addEventListener(name.slice(2), /** @type {EventListener} */ (value));
    } else {
      attribute(element, name, value);
    }
  }
  element.append(...children.filter(isChild));
  return element;
}

/** @param {Child} child @returns {child is Node | string} */
const isChild = (child) => child !== null && child !== undefined && child !== false && child !== '';

/**
 * Sets an attribute, or takes it away, and only if it is otherwise.
 * @param {Element} element
 * @param {string} name
 * @param {unknown} value
 */
export function attribute(element, name, value) {
  if (value === null || value === undefined || value === false) {
    element.removeAttribute(name);
  } else if (element.getAttribute(name) !== String(value === true ? '' : value)) {
    element.setAttribute(name, value === true ? '' : String(value));
  }
}

/**
 * Writes text, and only if it is otherwise: what a screen reader watches is not said twice.
 * @param {Element} element
 * @param {string} text
 */
export function say(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/** @param {HTMLElement} element @param {boolean} shown */
export function reveal(element, shown) {
  if (element.hidden === shown) element.hidden = !shown;
}

/**
 * Leaves the children alone if they are the same as before, so that focus stays.
 * @param {Element} parent
 * @param {Child[]} children
 */
export function fill(parent, children) {
  const wanted = children.filter(isChild);
  const same =
    parent.childNodes.length === wanted.length &&
    wanted.every((child, at) =>
      typeof child === 'string'
        ? parent.childNodes[at]?.nodeType === 3 && parent.childNodes[at].textContent === child
        : parent.childNodes[at] === child,
    );
  if (!same) parent.replaceChildren(...wanted);
}

/**
 * As many parts in a parent as there are entries: those that stand there are kept, by their place.
 * @template {Part} P
 * @param {Element} parent
 * @param {P[]} parts those that stand there, changed in place
 * @param {number} wanted how many there are to be
 * @param {(index: number) => P} make
 */
export function keep(parent, parts, wanted, make) {
  while (parts.length > wanted) parts.pop()?.element.remove();
  while (parts.length < wanted) {
    const part = make(parts.length);
    parts.push(part);
    parent.append(part.element);
  }
  for (const part of parts) part.show();
}

/**
 * A list of short texts, written anew only where it differs.
 * @param {Element} list @param {string[]} texts @param {keyof HTMLElementTagNameMap} [tag]
 */
export function sentences(list, texts, tag = 'li') {
  while (list.children.length > texts.length) list.lastElementChild?.remove();
  while (list.children.length < texts.length) list.append(h(tag));
  texts.forEach((text, at) => say(/** @type {Element} */ (list.children[at]), text));
}

/**
 * A button with words.
 * @param {string} words
 * @param {() => void} act
 * @param {Record<string, unknown>} [attributes]
 */
export const button = (words, act, attributes = {}) =>
  h('button', { type: 'button', onclick: act, ...attributes }, words);

/** Runs a function once nothing has asked for it for a while. @param {() => void} act @param {number} ms */
export function rested(act, ms) {
  let timer = 0;
  return () => {
    clearTimeout(timer);
    timer = window.setTimeout(act, ms);
  };
}
