// @ts-check
// Asking the desk: addresses are relative, so that the token in the page's own address stays in
// them and is written nowhere.

/** What the desk refused, in its own words. */
export class RefusedError extends Error {}

/** @param {string} address @param {RequestInit} [how] @returns {Promise<any>} */
async function ask(address, how = {}) {
  const response = await fetch(address, { ...how, headers: { 'x-ansata': 'desk', ...how.headers } });
  const type = response.headers.get('content-type') ?? '';
  const body = type.includes('json') ? await response.json() : null;
  if (!response.ok) {
    throw new RefusedError(body?.refused ?? `The desk answered with status ${response.status}.`);
  }
  return body;
}

/** @param {string} address @returns {Promise<any>} */
export const get = (address) => ask(address);

/** @param {string} address @param {unknown} body @returns {Promise<any>} */
export const post = (address, body) =>
  ask(address, {
    method: 'POST',
    body: JSON.stringify(body),
    headers: { 'content-type': 'application/json' },
  });

/** @param {string} address @param {Blob} file @returns {Promise<import('./types.js').Stored>} */
export const send = (address, file) =>
  ask(address, {
    method: 'POST',
    body: file,
    headers: { 'content-type': file.type || 'application/octet-stream' },
  });
