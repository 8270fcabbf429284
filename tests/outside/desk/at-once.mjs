// What happens at the same time: two pages on one layout, answers that come late or out of turn,
// a plaque that is drawn anew with every letter.
import assert from 'node:assert/strict';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { check, chromium, desk, folder, page, saved, version } from './desk.mjs';

const line = (sheet, number) => sheet.getByLabel(`Line ${number}`, { exact: true });
const open = async (browser, address) => {
  const opened = await page(browser, `${address}?layout=dedication.toml`);
  await opened.page.waitForSelector('body[data-ready] #line-1');
  return opened;
};

await check([version('playwright-core')], async () => {
  const on = folder('dedication.toml');
  const path = join(on, 'dedication.toml');
  const file = () => readFileSync(path, 'utf8');
  const { address } = await desk(on);
  const browser = await chromium();

  // Two pages: what one writes, the other shows without being asked.
  const [orla, ives] = [await open(browser, address), await open(browser, address)];
  const since = performance.now();
  await line(orla.page, 3).fill('given by her band');
  await ives.page.waitForFunction(() => document.querySelector('#line-3')?.value === 'given by her band');
  const shown = performance.now() - since;
  assert.ok(shown < 5000, `the other page showed it after ${shown} ms`);
  // Both write at once, into different lines: nothing of either is lost.
  await Promise.all([
    line(orla.page, 1).pressSequentially(' AND ALL WHO RANG THERE', { delay: 5 }),
    line(ives.page, 5).pressSequentially(', and ever after', { delay: 5 }),
  ]);
  await Promise.all([saved(orla.page), saved(ives.page)]);
  assert.ok(file().includes('MARROWBY VALE AND ALL WHO RANG THERE'), file());
  assert.ok(file().includes('1976 – 2026, and ever after'), file());
  // Both write into the same line while neither has heard of the other: it is told, and each
  // of both wordings can still be had.
  await ives.page.route('**/change', async (route) => {
    await line(orla.page, 4).fill('of fifty years at the tenor');
    await saved(orla.page);
    await route.continue();
  }, { times: 1 });
  await line(ives.page, 4).fill('of half a century of ringing');
  const mine = ives.page.getByRole('button', { name: 'Keep mine' });
  await mine.waitFor();
  await ives.page.locator('#inscription .wrong').getByText('of fifty years at the tenor').waitFor();
  assert.ok(file().includes('of fifty years at the tenor') && !file().includes('half a century'), file());
  assert.equal(await line(ives.page, 4).inputValue(), 'of half a century of ringing');
  await mine.click();
  await saved(ives.page);
  assert.ok(file().includes('of half a century of ringing'), file());
  await orla.page.waitForFunction(() => document.querySelector('#line-4')?.value === 'of half a century of ringing');
  orla.quiet();
  ives.quiet();
  await ives.context.close();

  // A program beside the page changes the file while nothing is being written.
  writeFileSync(path, file().replace('of half a century of ringing', 'by another program'));
  await orla.page.waitForFunction(() => document.querySelector('#line-4')?.value === 'by another program');
  await orla.context.close();

  // Answers that take from nothing to half a second, by turns: the last letter stands at the end.
  const late = await open(browser, address);
  let turn = 0;
  await late.page.route(/\/(bench|change|cures)$/, async (route) => {
    turn += 1;
    const answer = await route.fetch();
    await new Promise((done) => setTimeout(done, (turn * 173) % 500));
    await route.fulfill({ response: answer });
  });
  const words = 'rung by the band of Marrowby Vale';
  await line(late.page, 3).fill('');
  await line(late.page, 3).pressSequentially(words, { delay: 40 });
  assert.equal(await line(late.page, 3).inputValue(), words);
  await saved(late.page);
  assert.ok(file().includes(`"${words}"`), file());
  assert.equal(await line(late.page, 3).inputValue(), words);
  // Another field is written and undone while answers are still on their way.
  await line(late.page, 5).fill('MMXXVI');
  await late.page.keyboard.press('Control+z');
  await saved(late.page);
  assert.ok(!file().includes('MMXXVI'), file());
  const told = await late.page.getByRole('img', { name: /^Plaque of / }).getAttribute('aria-label');
  assert.ok(told.includes('rung by the band'), told);
  assert.ok(!told.includes('MMXXVI'), told);
  late.quiet();
  await late.context.close();

  // A hundred edits, and never an empty frame, nor one of another size in between.
  const still = await open(browser, address);
  await still.page.evaluate(() => {
    const frame = document.querySelector('.plaque .frame');
    const height = frame.getBoundingClientRect().height;
    window.seen = { changes: 0, empty: 0, jumps: 0, frames: 0 };
    new MutationObserver(() => {
      window.seen.changes += 1;
      if (!frame.querySelector('svg path') || frame.hidden) window.seen.empty += 1;
    }).observe(frame, { childList: true, subtree: true, attributes: true });
    const look = () => {
      window.seen.frames += 1;
      if (Math.abs(frame.getBoundingClientRect().height - height) > 1) window.seen.jumps += 1;
      if (!frame.querySelector('svg path')) window.seen.empty += 1;
      requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
  for (let n = 1; n <= 100; n += 1) {
    await line(still.page, 5).fill(`1976 – ${2000 + n}`);
    if (n % 4 === 0) await saved(still.page);
  }
  await saved(still.page);
  const seen = await still.page.evaluate(() => window.seen);
  assert.ok(seen.changes >= 25, `the plaque was drawn ${seen.changes} times`);
  assert.deepEqual({ empty: seen.empty, jumps: seen.jumps }, { empty: 0, jumps: 0 });
  assert.ok(file().includes('1976 – 2100'), file());
  still.quiet();
  return { shown: Math.round(shown), ...seen };
});
