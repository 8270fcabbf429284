// A maker who has never seen the desk makes the dedication plaque with a photograph, from an
// empty folder to a signed pack, by mouse and keys. Screens are kept where ANSATA_SHOTS says.
//
// How long a person would take is worked out by the keystroke-level model: S. K. Card, T. P.
// Moran and A. Newell, "The keystroke-level model for user performance time with interactive
// systems", Communications of the ACM 23 (1980), 396-410: 0.2 s a key (an average skilled
// typist), 1.1 s to point, 0.2 s to press the button, 0.4 s from keys to mouse and back, 1.35 s
// of thought before each action. The figures are from memory.
import assert from 'node:assert/strict';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { ansata, check, chromium, desk, folder, layouts, page, saved, version } from './desk.mjs';

const LINES = ['MARROWBY VALE', 'The Elowen Tarrant\nStriking Cup', 'given by her family and her band',
  'in memory of fifty years at the tenor', '1976 – 2026'];
const KEY = 0.2, POINT = 1.1, PRESS = 0.2, HAND = 0.4, THINK = 1.35;
/** How late a change is that is held back, ms. */
const LATE = 500;

await check([version('playwright-core')], async () => {
  const on = folder();
  const { address } = await desk(on);
  const browser = await chromium();
  const { page: sheet, quiet } = await page(browser, address);
  const begun = performance.now();
  let actions = 0, seconds = 0, shots = 0;
  const shot = async () => {
    shots += 1;
    if (process.env.ANSATA_SHOTS) {
      await sheet.screenshot({ path: join(process.env.ANSATA_SHOTS, `${String(shots).padStart(2, '0')}.png`) });
    }
  };
  const did = (time) => { actions += 1; seconds += THINK + time; };
  const click = async (what) => { await what.click(); did(POINT + PRESS + HAND); };
  const type = async (into, text) => { await into.fill(text); did(POINT + PRESS + 2 * HAND + KEY * text.length); };
  const choose = async (from, word) => { await from.selectOption(word); did(2 * (POINT + PRESS) + HAND); };
  const part = (id) => sheet.locator(`#${id}`);
  const field = (id, label) => part(id).getByLabel(label, { exact: true });

  // From nothing.
  await sheet.getByText('There is no layout in this folder yet.').waitFor();
  await shot();
  await type(sheet.getByLabel('What the work is called'), 'Striking cup: plaque with a photograph');
  await click(sheet.getByRole('button', { name: 'Begin' }));
  await sheet.waitForSelector('body[data-ready] #plate');
  await click(sheet.getByRole('button', { name: 'Not now' }));
  await shot();

  // The plate.
  await type(field('plate', 'Size'), '150 x 90 mm');
  await choose(field('plate', 'Shape'), 'rounded');
  await type(field('plate', 'Corner'), '5 mm');
  await shot();

  // The inscription, line under line.
  await type(sheet.getByLabel('Line 1', { exact: true }), LINES[0]);
  for (const [at, text] of LINES.entries()) {
    if (at === 0) continue;
    await sheet.getByLabel(`Line ${at}`, { exact: true }).press('Control+Enter');
    did(2 * KEY);
    await type(sheet.getByLabel(`Line ${at + 1}`, { exact: true }), text);
    await saved(sheet);
  }
  await click(part('inscription').getByText('More about line 2'));
  await type(part('inscription').locator('li.line').nth(1).getByLabel('Size', { exact: true }), '1.7');
  await shot();

  // The lettering, by its look.
  await click(part('lettering').getByText('Choose it by its look, in your own wording'));
  const look = part('lettering').getByRole('radio', { name: 'Libre Baskerville', exact: true });
  await look.waitFor();
  await shot();
  await click(look);
  await saved(sheet);

  // The photograph. It reaches the file late: until then its picture is not asked for.
  await sheet.route('**/change', async (route) => {
    await new Promise((done) => setTimeout(done, LATE));
    await route.continue();
  }, { times: 1 });
  await sheet.locator('#photo-file').setInputFiles(join(layouts, 'tower.jpg'));
  did(4 * (POINT + PRESS) + HAND);
  await part('photographs').getByText('tower.jpg stands on the plate.').waitFor();
  await choose(field('photographs', 'Shape'), 'oval');
  await type(field('photographs', 'Proportion'), '3:4');
  assert.equal(await field('photographs', 'Process').locator('option:checked').textContent(), 'printed');
  await type(field('photographs', 'Permission'), 'Ives Penhallow, by letter of 2 March 2026');
  await saved(sheet);
  await click(part('photographs').getByText('Choose its place by small pictures'));
  const way = part('photographs').getByRole('radio').first();
  await way.waitFor();
  await shot();
  await click(way);
  await saved(sheet);

  // What holds it, and what it goes on.
  await click(part('fixing').getByText('Choose the fixing by its head and its hole'));
  const screw = part('fixing').getByRole('radio').first();
  await screw.waitFor();
  await click(screw);
  await choose(field('fixing', 'Holes'), 'four corners');
  await shot();
  await type(field('face', 'Size'), '180 x 120 mm');
  await choose(field('face', 'Material'), 'black walnut');
  await type(field('face', 'Thickness'), '19 mm');
  await saved(sheet);
  await shot();

  // Nothing stops it; sign and take the pack.
  assert.deepEqual(await sheet.locator('.finding[data-severity=stop]').allTextContents(), []);
  await type(sheet.getByLabel('Who signs'), 'Orla Penhallick');
  await type(sheet.getByLabel('As what'), 'For the ringers');
  await click(sheet.getByRole('button', { name: 'Sign', exact: true }));
  await sheet.getByText('Signed, and it is what is cut.').waitFor();
  await shot();
  await sheet.locator('#files').scrollIntoViewIfNeeded();
  const name = 'striking-cup-plaque-with-a-photograph';
  const link = sheet.getByRole('link', { name: `Download ${name}.zip` });
  await link.waitFor({ timeout: 120_000 });
  await shot();
  const coming = sheet.waitForEvent('download');
  await click(link);
  const pack = readFileSync(await (await coming).path());
  const took = (performance.now() - begun) / 1000;

  // The command line reads what was made, and makes the same of it to the byte.
  const fit = await ansata(on, 'fit', `${name}.toml`);
  assert.equal(fit.status, 0, fit.out);
  const made = await ansata(on, 'make', `${name}.toml`, '--zip', '-o', 'made');
  assert.equal(made.status, 0, made.out);
  assert.ok(pack.equals(readFileSync(join(on, 'made', `${name}.zip`))), 'the pack is another than that of the command line');
  assert.match(readFileSync(join(on, `${name}.signed.toml`), 'utf8'), /Orla Penhallick/);
  quiet();
  if (process.env.ANSATA_SHOTS) writeFileSync(join(process.env.ANSATA_SHOTS, 'layout.toml'), readFileSync(join(on, `${name}.toml`)));
  assert.ok(seconds < 180, `a person would take ${seconds.toFixed(0)} s`);
  return { actions, seconds: Math.round(seconds), took: Math.round(took) };
});
