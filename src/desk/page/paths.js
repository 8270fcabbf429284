// @ts-check
// Values of the layout by their paths, and what changes make of them, so that the page can show
// at once what has been typed and not yet been answered.

/** @typedef {import('./types.js').Path} Path */
/** @typedef {import('./types.js').Change} Change */
/** @typedef {any} Json A value as JSON has it; undefined where there is none. */

/** A path as one word, to look it up by. @param {Path} path */
export const word = (path) => JSON.stringify(path);

/** Whether two values are the same. @param {Json} one @param {Json} other @returns {boolean} */
export function same(one, other) {
  if (one === other) return true;
  if (typeof one !== 'object' || typeof other !== 'object' || !one || !other) return false;
  if (Array.isArray(one) !== Array.isArray(other)) return false;
  const keys = Object.keys(one);
  return (
    keys.length === Object.keys(other).length &&
    keys.every((key) => Object.hasOwn(other, key) && same(one[key], other[key]))
  );
}

/** The value at a path. @param {Json} values @param {Path} path @returns {Json} */
export function at(values, path) {
  let value = values;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = value[step];
  }
  return value;
}

/** Whether a path is the other or leads into it. @param {Path} path @param {Path} above */
export const within = (path, above) =>
  above.length <= path.length && above.every((step, i) => step === path[i]);

/**
 * The values with one value set, the rest shared.
 * @param {Json} values
 * @param {Path} path
 * @param {Json} to
 * @returns {Json}
 */
export function withValue(values, path, to) {
  if (path.length === 0) return to;
  const [step, ...rest] = path;
  const inner = at(values, [step]);
  if (typeof step === 'number') {
    const list = Array.isArray(values) ? [...values] : [];
    if (rest.length === 0 && to === undefined) list.splice(step, 1);
    else list[step] = withValue(inner, rest, to);
    return list;
  }
  const table = typeof values === 'object' && values !== null && !Array.isArray(values) ? { ...values } : {};
  const next = withValue(inner, rest, to);
  if (next === undefined) delete table[step];
  else table[step] = next;
  return table;
}

/** The values as a change makes them. @param {Json} values @param {Change} change @returns {Json} */
export function changed(values, change) {
  if (change.do === 'text') return values;
  if (change.do === 'set') return withValue(values, change.path, change.to);
  if (change.do === 'remove') {
    return at(values, change.path) === undefined ? values : withValue(values, change.path, undefined);
  }
  const list = [...(at(values, change.path.slice(0, -1)) ?? [])];
  const index = Number(change.path.at(-1));
  if (change.do === 'insert') list.splice(index, 0, change.to);
  else list.splice(change.to, 0, ...list.splice(index, 1));
  return withValue(values, change.path.slice(0, -1), list);
}

/** A path in words, for links and labels: "line 2, text". @param {Path} path */
export function spoken(path) {
  /** @type {string[]} */
  const words = [];
  for (const step of path) {
    if (typeof step === 'number') words.push(`${words.pop() ?? ''} ${step + 1}`.trim());
    else words.push(step.replaceAll('_', ' '));
  }
  return words.join(', ');
}
