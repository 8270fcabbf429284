// Every key of the layout file has its control on the page, and the control shows what the file
// holds. The samples lie in the folder that ANSATA_SAMPLES names, as layouts, and in `ways.json`
// the ways to the keys that each is a sample of.
import assert from 'node:assert/strict';
import { cpSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { check, chromium, desk, folder, page, version } from './desk.mjs';

/** Opens what is folded away, but not what is drawn to be chosen from. */
function unfold() {
  for (let shut; (shut = [...document.querySelectorAll('details.else:not([open])')]).length > 0;) {
    for (const one of shut) {
      one.open = true;
      one.dispatchEvent(new Event('toggle'));
    }
  }
}

/** Of the ways to keys those at which the page does not show what the layout holds. */
function unseen(wanted) {
  const seen = (element) => element.getClientRects().length > 0;
  const shows = (element, to) => {
    if (typeof to === 'object') return seen(element);
    const control = element.matches('input, textarea')
      ? element : element.querySelector(':scope > .value > :is(input, textarea, select, output)');
    if (!control || !seen(control)) return false;
    if (!control.matches('select')) return (control.value ?? control.textContent) === String(to);
    const chosen = control.selectedOptions[0];
    const words = to === true ? 'yes' : to === false ? 'no' : String(to);
    return chosen?.value !== '' && chosen?.value !== 'other' && chosen?.text === words;
  };
  const all = [...document.querySelectorAll('[data-key]')];
  const at = (way) => all.filter((one) => one.dataset.key === JSON.stringify(way));
  // A table is where any of its keys is; its kind is the way of writing that was chosen for it.
  const within = (way) => all.filter((one) => one.dataset.key.startsWith(`${JSON.stringify(way).slice(0, -1)},`));
  return wanted.filter(({ way, to }) => {
    const table = typeof to === 'object' && within(way).some(seen);
    const kind = way.at(-1) === 'kind' && at(way.slice(0, -1)).some((one) => shows(one, `${to} …`));
    return !table && !kind && !at(way).some((one) => shows(one, to));
  });
}

await check([version('playwright-core')], async () => {
  const on = folder();
  cpSync(process.env.ANSATA_SAMPLES, on, { recursive: true });
  const samples = JSON.parse(readFileSync(join(on, 'ways.json'), 'utf8'));
  // The version of the file's form is the desk's own.
  const own = (way) => way.length === 1 && way[0] === 'ansata';
  const { address } = await desk(on);
  const browser = await chromium();
  const { page: sheet, quiet } = await page(browser, address);
  let keys = 0;
  const missing = [];
  for (const { name, ways } of samples) {
    await sheet.goto(`${address}?layout=${name}`);
    await sheet.waitForSelector('body[data-ready] main');
    const shown = await sheet.locator('#plate').isVisible();
    assert.ok(shown, `${name}: ${await sheet.locator('main').innerText()}`);
    await sheet.evaluate(unfold);
    const { values } = await (await sheet.request.get(`${address}layout/${name}/bench`)).json();
    const wanted = ways.filter((way) => !own(way))
      .map((way) => ({ way, to: way.reduce((here, step) => here[step], values) }));
    const lost = await sheet.evaluate(unseen, wanted);
    missing.push(...lost.map(({ way, to }) => `${JSON.stringify(way)} = ${JSON.stringify(to)} in ${name}`));
    keys += wanted.length;
  }
  assert.deepEqual(missing, []);
  quiet();
  return { keys, samples: samples.length };
});
