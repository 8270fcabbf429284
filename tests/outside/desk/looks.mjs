// How the sheet looks and reads in every state that a maker meets: axe-core finds nothing against
// WCAG 2.2 AA or good practice, in light and dark; no width of screen has to be scrolled sideways.
// Screens are kept where ANSATA_SHOTS says.
import assert from 'node:assert/strict';
import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { check, chromium, desk, folder, layouts, need, page, saved, version } from './desk.mjs';

const axe = readFileSync(need.resolve('axe-core/axe.min.js'), 'utf8');
/** A narrow telephone, a tablet, and two screens, CSS pixels. */
const WIDTHS = [360, 768, 1280, 1920];

const ready = (sheet) => sheet.waitForSelector('body[data-ready]');
const open = (layout) => async (sheet, address) => {
  await sheet.goto(`${address}?layout=${layout}`);
  await ready(sheet);
};
/** Opens what is folded away, also what lies within it, and waits for what it asks for. */
const unfold = async (sheet) => {
  for (let more = true; more;) {
    more = await sheet.evaluate(() => {
      const shut = [...document.querySelectorAll('details:not([open])')];
      for (const one of shut) one.open = true;
      return shut.length > 0;
    });
  }
  await sheet.waitForFunction(() => !document.body.innerText.includes('The pictures are being drawn …'), null, { timeout: 120_000 });
};

/** What a maker meets, each with the way to it. */
const STATES = {
  folder: async (sheet, address) => { await sheet.goto(address); await ready(sheet); },
  fresh: async (sheet, address) => {
    await sheet.goto(address);
    await sheet.getByLabel('What the work is called').fill('Tenor box');
    await sheet.getByRole('button', { name: 'Begin' }).click();
    await sheet.waitForSelector('#plate');
    await ready(sheet);
  },
  photograph: open('photograph.toml'),
  'cannot-fit': async (sheet, address) => {
    await open('cannot-fit.toml')(sheet, address);
    await sheet.locator('.cures li').first().waitFor({ timeout: 120_000 });
  },
  opened: async (sheet, address) => { await open('photograph.toml')(sheet, address); await unfold(sheet); },
  mistaken: async (sheet, address) => {
    await open('dedication.toml')(sheet, address);
    await sheet.locator('#plate').getByLabel('Size', { exact: true }).fill('120 x');
    await sheet.locator('#plate [aria-invalid=true]').waitFor();
  },
  broken: open('broken.toml'),
  signed: async (sheet, address) => {
    await open('signed.toml')(sheet, address);
    await sheet.locator('#files').scrollIntoViewIfNeeded();
    await sheet.getByRole('link', { name: 'Download signed.zip' }).waitFor({ timeout: 120_000 });
  },
};

await check([version('playwright-core'), version('axe-core')], async () => {
  const on = folder('photograph.toml', 'tower.jpg', 'cannot-fit.toml', 'dedication.toml');
  copyFileSync(join(layouts, 'oval.toml'), join(on, 'signed.toml'));
  writeFileSync(join(on, 'broken.toml'), 'title = "The tenor\n[plate]\n');
  const { address } = await desk(on);
  const browser = await chromium();
  let looked = 0, rules = 0;
  const found = [];
  const wide = [];
  for (const colorScheme of ['light', 'dark']) {
    for (const [state, reach] of Object.entries(STATES)) {
      const { page: sheet, context, quiet } = await page(browser, address, { colorScheme });
      await reach(sheet, address);
      const told = await sheet.evaluate(async (source) => {
        new Function(source)();
        // Off where nobody asks for it: WCAG 2.2, 2.5.8 (AA).
        const told = await window.axe.run(document, { rules: { 'target-size': { enabled: true } } });
        const short = (one) => `${one.id}: ${one.help}: ${one.nodes.slice(0, 4).map((node) => `${node.target} ${node.any[0]?.message ?? ''}`).join(' | ')}`;
        return { broken: told.violations.map(short), kept: told.passes.length };
      }, axe).catch((error) => { throw new Error(`${state}: ${error}`); });
      found.push(...told.broken.map((one) => `${colorScheme}, ${state}: ${one}`));
      rules = Math.max(rules, told.kept);
      for (const width of WIDTHS) {
        await sheet.setViewportSize({ width, height: 900 });
        await sheet.waitForTimeout(150);
        const over = await sheet.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
        if (over > 0) wide.push(`${state} at ${width}: ${over} px too wide`);
        if (process.env.ANSATA_SHOTS) {
          await sheet.screenshot({ path: join(process.env.ANSATA_SHOTS, `${state}-${colorScheme}-${width}.png`), fullPage: true });
        }
        looked += 1;
      }
      quiet();
      await context.close();
    }
  }
  assert.deepEqual(found, []);
  assert.deepEqual(wide, []);
  return { looked, rules };
});
