// @ts-check
// Changes that were not kept, because the file could not be understood with them: a shape whose
// corner is still missing, a length without its unit. They wait, are shown in their fields, and
// go along with the next change.

import { changed, same, withValue, within } from './paths.js';

/** @typedef {import('./types.js').Change} Change */
/** @typedef {import('./types.js').Path} Path */

/**
 * New changes with those that wait. What is written inside of something that waits becomes one
 * change with it: the file has no such table yet in which it could be set. What waits inside of
 * something that is written anew is gone.
 * @param {Change[]} fresh
 * @param {Change[]} waiting
 * @returns {{ changes: Change[], waiting: Change[] }}
 */
export function folded(fresh, waiting) {
  let rest = waiting;
  /** @type {Change[]} */
  const changes = [];
  for (const change of fresh) {
    if (change.do === 'text') {
      rest = [];
      changes.push(change);
      continue;
    }
    if (change.do === 'insert' || change.do === 'move') {
      changes.push(change);
      continue;
    }
    const outer = rest.find(
      (one) =>
        (one.do === 'insert' || (one.do === 'set' && one.path.length < change.path.length)) &&
        within(change.path, one.path),
    );
    if (outer && outer.do !== 'text') {
      rest = rest.filter((one) => one !== outer && (one.do === 'text' || !within(one.path, change.path)));
      const inner = change.path.slice(outer.path.length);
      if (inner.length > 0 || change.do === 'set') {
        const to = change.do === 'set' ? change.to : undefined;
        changes.push(
          /** @type {Change} */ ({ ...outer, to: withValue('to' in outer ? outer.to : {}, inner, to) }),
        );
      }
    } else {
      rest = rest.filter((one) => one.do === 'text' || !within(one.path, change.path));
      changes.push(change);
    }
  }
  return { changes, waiting: rest };
}

/**
 * What still waits after a change: in a list whose entries have other places now it goes along.
 * @param {Change[]} waiting @param {Change} change
 * @returns {Change[]}
 */
export function afterwards(waiting, change) {
  if (change.do === 'set' || change.do === 'text') return waiting;
  const list = change.path.slice(0, -1);
  const from = change.path.at(-1);
  if (typeof from !== 'number') return waiting;
  return waiting.map((one) => {
    if (one.do === 'text' || !within(one.path, list) || typeof one.path[list.length] !== 'number') return one;
    const path = [...one.path];
    path[list.length] = placeAfter(Number(path[list.length]), from, change);
    return { ...one, path };
  });
}

/**
 * @param {number} at
 * @param {number} from
 * @param {Extract<Change, { do: 'insert' | 'move' | 'remove' }>} change
 */
function placeAfter(at, from, change) {
  if (change.do === 'insert') return at >= from ? at + 1 : at;
  if (change.do === 'remove') return at > from ? at - 1 : at;
  if (at === from) return change.to;
  const without = at > from ? at - 1 : at;
  return without >= change.to ? without + 1 : without;
}

/** The values with changes made in them. @param {any} values @param {Change[]} changes @returns {any} */
export const overlaid = (values, changes) => changes.reduce(changed, values);

/**
 * Whether a choice's changes are what the layout holds.
 * @param {any} values
 * @param {(path: Path) => any} value
 * @param {import('./types.js').Choice} choice
 */
export const holds = (values, value, choice) =>
  values !== null &&
  choice.changes.every((change) => same(value(change.path), change.to)) &&
  choice.remove.every((path) => value(path) === undefined);
