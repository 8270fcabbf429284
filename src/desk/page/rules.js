// @ts-check
// Which keys of a table go together. The schema says it in conditions ("if shape is rounded, then
// corner is required"); they are read here as far as they speak of keys, so that the page shows
// the keys that a shape needs and puts away those that it cannot have. The server judges.

/** @typedef {import('./schema.js').Node} Node */

/**
 * Whether a condition of the schema holds.
 * @param {Node | boolean} node
 * @param {any} value
 * @returns {boolean}
 */
export function holds(node, value) {
  if (typeof node === 'boolean') return node;
  if ('const' in node && node.const !== value) return false;
  if (node.enum && !node.enum.includes(value)) return false;
  if (node.not && holds(node.not, value)) return false;
  if (node.allOf && !node.allOf.every((/** @type {Node} */ one) => holds(one, value))) return false;
  if (node.anyOf && !node.anyOf.some((/** @type {Node} */ one) => holds(one, value))) return false;
  if (node.oneOf && node.oneOf.filter((/** @type {Node} */ one) => holds(one, value)).length !== 1)
    return false;
  if (typeof value !== 'object' || value === null) return node.type !== 'object';
  if (node.required && !node.required.every((/** @type {string} */ key) => Object.hasOwn(value, key)))
    return false;
  return Object.entries(node.properties ?? {}).every(
    ([key, one]) => !Object.hasOwn(value, key) || holds(one, value[key]),
  );
}

/**
 * The keys of a table that cannot stand in it now, and those that it needs.
 * @param {Node} node the table @param {any} value
 * @returns {{ barred: Set<string>, needed: Set<string> }}
 */
export function keysOf(node, value) {
  const barred = new Set();
  const needed = new Set(node.required ?? []);
  /** @param {Node | undefined} rule */
  const read = (rule) => {
    if (!rule || typeof rule !== 'object') return;
    if (rule.if) read(holds(rule.if, value) ? rule.then : rule.else);
    for (const [key, one] of Object.entries(rule.properties ?? {})) if (one === false) barred.add(key);
    for (const key of rule.required ?? []) needed.add(key);
    for (const [key, others] of Object.entries(rule.dependentRequired ?? {})) {
      if (Object.hasOwn(value, key)) for (const other of others) needed.add(other);
    }
    if (rule.propertyNames?.enum) {
      for (const key of Object.keys(node.properties))
        if (!rule.propertyNames.enum.includes(key)) barred.add(key);
    }
    // One of several, of which one is there: the others go.
    if (rule.oneOf) {
      const sets = rule.oneOf.map((/** @type {Node} */ one) => one.required ?? []);
      const there = sets.filter((/** @type {string[]} */ keys) =>
        keys.some((key) => Object.hasOwn(value, key)),
      );
      if (there.length === 1)
        for (const keys of sets) if (keys !== there[0]) for (const key of keys) barred.add(key);
    }
    // Two that do not go together: the one that is not there goes.
    const pair = rule.not?.required ?? [];
    if (pair.length === 2 && !rule.not.anyOf) {
      for (const key of pair) if (Object.hasOwn(value, key)) barred.add(pair[0] === key ? pair[1] : pair[0]);
    }
    for (const inner of rule.allOf ?? []) read(inner);
  };
  for (const rule of node.allOf ?? []) read(rule);
  read({ oneOf: node.oneOf?.every((/** @type {Node} */ one) => !one.type) ? node.oneOf : undefined });
  return { barred, needed };
}
