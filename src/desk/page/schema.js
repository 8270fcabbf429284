// @ts-check
// What the layout's schema says of a value, as far as a form needs it: which kind it is, which
// words it may be, what holds where it is left out, and which keys do not go together.

/** @typedef {Record<string, any>} Node A piece of the schema. */
/**
 * A way to write a value: a word that is chosen, or a kind of value that is then filled in.
 * @typedef {object} Option
 * @property {string} label
 * @property {any} [word] the word or number itself
 * @property {Node} [node] what is filled in
 */

/**
 * A piece of the schema with what it refers to.
 * @param {Node} schema the whole
 * @param {Node} node
 * @returns {Node}
 */
export function resolved(schema, node) {
  if (typeof node?.$ref !== 'string') return node ?? {};
  const { $ref, ...own } = node;
  const target = resolved(schema, schema.$defs[$ref.slice('#/$defs/'.length)]);
  return { ...target, ...own, allOf: [...(target.allOf ?? []), ...(own.allOf ?? [])] };
}

/**
 * The piece of the schema at a path.
 * @param {Node} schema
 * @param {import('./types.js').Path} path
 * @returns {Node}
 */
export function pieceAt(schema, path) {
  let node = schema;
  for (const step of path) {
    node = resolved(schema, typeof step === 'number' ? node.items : node.properties?.[step]);
  }
  return node;
}

/**
 * @param {Node} node
 * @returns {'word' | 'table' | 'list' | 'choice' | 'yes' | 'number' | 'text' | 'fixed'}
 */
export function kind(node) {
  if ('const' in node) return 'fixed';
  if (node.oneOf || node.anyOf)
    return (node.oneOf ?? node.anyOf).some((/** @type {Node} */ one) => one.required && !one.type)
      ? 'table'
      : 'choice';
  if (node.enum) return 'word';
  if (node.type === 'object') return 'table';
  if (node.type === 'array') return 'list';
  if (node.type === 'boolean') return 'yes';
  return node.type === 'number' || node.type === 'integer' ? 'number' : 'text';
}

/** The ways to write a value of several kinds. @param {Node} schema @param {Node} node @returns {Option[]} */
export function options(schema, node) {
  if (node.enum) return node.enum.map((/** @type {any} */ word) => ({ label: String(word), word }));
  /** @type {Option[]} */
  const found = [];
  for (const piece of node.oneOf ?? node.anyOf ?? []) {
    const one = resolved(schema, piece);
    if ('const' in one) found.push({ label: String(one.const), word: one.const });
    else if (one.enum) found.push(...options(schema, one));
    else found.push({ label: way(one), node: one });
  }
  return found;
}

/**
 * A value that is free text, or one of a few fixed words: one field for both, which offers the words.
 * @param {Node} schema @param {Node} node @returns {Node | null} null where it is none
 */
export function freeText(schema, node) {
  const pieces = (node.oneOf ?? node.anyOf ?? []).map((/** @type {Node} */ piece) => resolved(schema, piece));
  const free = pieces.filter((/** @type {Node} */ one) => kind(one) === 'text');
  const fixed = pieces.filter((/** @type {Node} */ one) => typeof one.const === 'string');
  if (free.length === 0 || free.length + fixed.length < pieces.length) return null;
  // Of the kinds of text only the bounds are said: what the value is has been said before.
  const bounds = free.map((/** @type {Node} */ one) =>
    one.description
      ?.split('. ')
      .slice(node.description ? 1 : 0)
      .join('. '),
  );
  const said = [node.description, ...bounds].filter(Boolean).join(' ');
  return {
    type: 'string',
    description: said,
    default: node.default,
    examples: free[0].examples,
    words: fixed.length > 0 ? fixed.map((/** @type {Node} */ one) => one.const) : undefined,
  };
}

/** What a kind of value is called among words to choose. @param {Node} node */
function way(node) {
  const said = node.properties?.kind?.const ?? sentence(node.description ?? 'in my own words');
  return `${said} …`;
}

/** The first part of a description, without what follows after a colon or full stop. @param {string} text */
const sentence = (text) => text.split(/[.:;(]/)[0].trim();

/** Which option a value is written as; -1 where there is none. @param {Option[]} all @param {any} value */
export function optionOf(all, value) {
  if (value === undefined) return -1;
  const exact = all.findIndex((one) => 'word' in one && one.word === value);
  if (exact >= 0) return exact;
  const fits = all.findIndex((one) => one.node && suits(one.node, value) && distinct(one.node, value));
  return fits >= 0 ? fits : all.findIndex((one) => one.node && suits(one.node, value));
}

/** @param {Node} node @param {any} value */
function suits(node, value) {
  const type = Array.isArray(value) ? 'array' : typeof value;
  return (
    node.type === type ||
    (node.type === 'integer' && type === 'number') ||
    (node.type === undefined && type === 'string') ||
    (node.type === 'number' && type === 'string')
  );
}

/** Whether a table has the keys by which its kind is known. @param {Node} node @param {any} value */
export function distinct(node, value) {
  if (node.type === 'number') return typeof value === 'number';
  if (node.type !== 'object') return true;
  if (node.properties.kind) return node.properties.kind.const === value.kind;
  return (
    Object.keys(value).every((key) => Object.hasOwn(node.properties, key)) &&
    (node.required ?? []).some((/** @type {string} */ key) => Object.hasOwn(value, key))
  );
}

/**
 * What a value may begin as: what must be told and is known, such as the kind of a fixing.
 * @param {Node} schema
 * @param {Node} node
 * @returns {any}
 */
export function seed(schema, node) {
  if ('const' in node) return node.const;
  const type = kind(node);
  if (type === 'table') {
    /** @type {Record<string, any>} */
    const table = {};
    for (const key of node.required ?? []) {
      const inner = seed(schema, resolved(schema, node.properties[key]));
      if (inner !== undefined) table[key] = inner;
    }
    return table;
  }
  if (type === 'list')
    return node.minItems > 0 && node.minItems === node.maxItems
      ? Array(node.minItems).fill(node.items?.type === 'number' ? 0 : '0 mm')
      : (node.examples?.[0] ?? []);
  if (node.default !== undefined) return node.default;
  if (node.examples) return node.examples[0];
  if (type === 'word') return node.enum[0];
  return node.type === 'integer' && node.minimum >= 1 ? node.minimum : undefined;
}

/** Words for a key. @param {string} key */
export function label(key) {
  const words = key.replaceAll('_', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/**
 * What to say beside a value.
 * @param {Node} node
 * @param {boolean} needed whether it has to be told and is not there
 */
export function hint(node, needed) {
  const parts = [];
  if (node.description) parts.push(node.description);
  // Where there are words to choose, the first of them tells what is usual.
  if (node.default !== undefined && !['word', 'yes', 'choice'].includes(kind(node)))
    parts.push(`As usual: ${plain(node.default)}.`);
  else if (node.words) parts.push(`Or: ${node.words.join(', ')}.`);
  else if (needed) parts.push('It has to be told.');
  else if (node.examples && !/such as/.test(node.description ?? ''))
    parts.push(`For instance: ${plain(node.examples[0])}.`);
  return parts.join(' ');
}

/** A value in words. @param {any} value @returns {string} */
export function plain(value) {
  if (value === true) return 'yes';
  if (value === false) return 'no';
  if (Array.isArray(value)) return value.map(plain).join(', ');
  if (value && typeof value === 'object')
    return Object.entries(value)
      .map(([key, inner]) => `${label(key).toLowerCase()} ${plain(inner)}`)
      .join(', ');
  return String(value);
}
