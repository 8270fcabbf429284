// The whole job by keys alone: Tab, Enter, Space, arrows and typing. Nothing is clicked, and
// nothing gets the focus but by Tab; wherever it goes it can be seen.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ansata, check, chromium, desk, folder, layouts, page, saved, version } from './desk.mjs';

/** More stops than any sheet has: who has not arrived by then never will. */
const MOST_STOPS = 400;

await check([version('playwright-core')], async () => {
  const on = folder();
  const { address } = await desk(on);
  const { page: sheet, quiet } = await page(await chromium(), address);
  const { keyboard } = sheet;
  let keys = 0;
  const press = async (key) => { keys += 1; await keyboard.press(key); };
  const type = async (text) => { keys += text.length; await keyboard.type(text); };

  /** What has the focus: its part of the sheet, its name, and whether it can be seen. */
  const focus = () => sheet.evaluate(() => {
    const here = document.activeElement;
    const style = getComputedStyle(here);
    const name = here.labels?.[0]?.textContent || here.getAttribute('aria-label') || here.textContent || '';
    return {
      part: here.closest('section.part')?.id ?? '',
      name: name.trim(),
      seen: here === document.body || (style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 1),
    };
  });
  /** Tab after Tab until something of this name has the focus. */
  const to = async (name, part = null, back = false) => {
    for (let stops = 0; stops < MOST_STOPS; stops += 1) {
      await press(back ? 'Shift+Tab' : 'Tab');
      const here = await focus();
      assert.ok(here.seen, `the focus cannot be seen on ${here.part} ${here.name}`);
      if (here.name === name && (part === null || here.part === part)) return;
    }
    assert.fail(`no way by Tab to ${part ?? ''} ${name}`);
  };
  /** The text of the field that has the focus, written anew. */
  const write = async (text) => { await press('Control+a'); await type(text); };

  sheet.on('filechooser', (chooser) => chooser.setFiles(join(layouts, 'tower.jpg')));

  await to('What the work is called');
  await type('Tenor box');
  await press('Enter');
  await sheet.waitForSelector('body[data-ready] #plate');
  await to('Not now');
  await press('Enter');

  await to('Size', 'plate');
  await write('120 x 70 mm');
  await to('Shape', 'plate');
  await type('rounded');
  await to('Corner', 'plate');
  await type('4 mm');
  await saved(sheet);

  await to('Line 1', 'inscription');
  await write('TENOR');
  await press('Control+Enter');
  await type('19 cwt 2 qr in E flat');
  await press('Control+Enter');
  await type('a line too many');
  await saved(sheet);
  await press('Alt+ArrowUp');
  await saved(sheet);
  await press('Control+z');
  await saved(sheet);
  // The focus stays at its place, where the line before stands again.
  await to('Line 3', 'inscription');
  await press('Control+a');
  await press('Backspace');
  await press('Backspace');
  await saved(sheet);
  await to('Fill', 'lettering');
  await type('red');
  await saved(sheet);

  await to('Add a photograph: let a file fall here, or choose one', 'photographs');
  await press('Enter');
  await sheet.getByText('tower.jpg stands on the plate.').waitFor();
  await to('Permission', 'photographs', true);
  await type('Ives Penhallow, by letter');
  // The crop: from its middle a step to the right and two down.
  await to('Permission', 'photographs');
  const focused = () => sheet.evaluate(() => document.activeElement.classList.contains('crop'));
  for (let stops = 0; !(await focused()); stops += 1) {
    assert.ok(stops < MOST_STOPS, 'no way by Tab to the crop');
    await press('Shift+Tab');
  }
  for (const key of ['ArrowRight', 'ArrowDown', 'ArrowDown', '+']) await press(key);
  await saved(sheet);

  await to('Choose the fixing by its head and its hole', 'fixing');
  await press('Enter');
  await sheet.locator('#fixing input[type=radio]').first().waitFor();
  await press('Tab');
  await press('Space');
  await saved(sheet);
  await to('Holes', 'fixing');
  await type('four corners');
  await saved(sheet);

  assert.deepEqual(await sheet.locator('.finding[data-severity=stop]').allTextContents(), []);
  await to('Who signs', 'proof');
  await type('Orla Penhallick');
  await to('As what', 'proof');
  await type('For the ringers');
  await to('Sign', 'proof');
  await press('Enter');
  await sheet.getByText('Signed, and it is what is cut.').waitFor();
  await sheet.locator('#files').scrollIntoViewIfNeeded();
  await sheet.getByRole('link', { name: 'Download tenor-box.zip' }).waitFor({ timeout: 120_000 });
  await to('Download tenor-box.zip', 'files');
  const coming = sheet.waitForEvent('download');
  await press('Enter');
  const pack = readFileSync(await (await coming).path());

  const made = await ansata(on, 'make', 'tenor-box.toml', '--zip', '-o', 'made');
  assert.equal(made.status, 0, made.out);
  assert.ok(pack.equals(readFileSync(join(on, 'made', 'tenor-box.zip'))));
  const layout = readFileSync(join(on, 'tenor-box.toml'), 'utf8');
  for (const told of ['text = "TENOR"', 'text = "19 cwt 2 qr in E flat"', 'focus = [0.51, 0.52]', 'fill = "red"', 'holes = "four corners"']) {
    assert.ok(layout.includes(told), `${told} is not in\n${layout}`);
  }
  assert.ok(!layout.includes('too many'), layout);
  quiet();
  return { keys };
});
