// @ts-check
// What comes by itself: changes of another page or of the disk, cures of what was noticed, and
// that the desk has been closed.

import { get } from './wire.js';

/** @typedef {import('./desk.js').Desk} Desk */

/** Cures take the server seconds, so they are asked for once nothing changes for so long, ms. */
const BEFORE_CURES = 700;

/**
 * Listens while the page is seen: a browser opens few connections to one host, and pages that lie
 * behind others would use them up.
 * @param {Desk} desk
 */
export function watch(desk) {
  let events = listen(desk);
  document.addEventListener('visibilitychange', () => {
    events.close();
    if (document.hidden || desk.closed) return;
    events = listen(desk);
    void desk.refresh();
  });
}

/** @param {Desk} desk */
function listen(desk) {
  const events = new EventSource(desk.address('events'));
  events.addEventListener('version', (event) => {
    desk.toldVersion = Math.max(desk.toldVersion, Number(event.data));
    if (!desk.flight && desk.queue.length === 0) void desk.idle();
  });
  events.addEventListener('open', () => desk.heard(true));
  events.addEventListener('error', () => desk.heard(false));
  events.addEventListener('closing', () => {
    events.close();
    desk.closed = true;
    desk.show();
  });
  return events;
}

/** @param {Desk} desk */
export function askCures(desk) {
  clearTimeout(desk.cureTimer);
  const { plaque, version } = desk.bench;
  if (!plaque?.findings.some((finding) => finding.accepted === null) || desk.cures?.version === version)
    return;
  desk.cureTimer = window.setTimeout(async () => {
    if (desk.flight || desk.bench.version !== version) return;
    const cures = await get(desk.address('cures')).catch(() => null);
    if (cures?.version !== desk.bench.version) return;
    desk.cures = cures;
    desk.show();
  }, BEFORE_CURES);
}
