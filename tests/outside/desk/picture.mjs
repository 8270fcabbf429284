// Makes the picture of the desk that README shows: ANSATA=… ANSATA_NODE=… node picture.mjs FILE
import { check, chromium, desk, folder, page, version } from './desk.mjs';

await check([version('playwright-core')], async () => {
  const { address } = await desk(folder('dedication.toml'));
  const options = { viewport: { width: 960, height: 1010 } };
  const { page: sheet, quiet } = await page(await chromium(), `${address}?layout=dedication.toml`, options);
  await sheet.waitForSelector('body[data-ready]');
  await sheet.getByRole('button', { name: 'Not now' }).click();
  await sheet.locator('#inscription').evaluate((part) => {
    const plaque = document.querySelector('.plaque') ?? part;
    window.scrollTo(0, part.getBoundingClientRect().top + window.scrollY - plaque.getBoundingClientRect().height - 20);
  });
  await sheet.evaluate(() => document.activeElement.blur());
  await sheet.waitForTimeout(500);
  await sheet.screenshot({ path: process.argv[2] });
  quiet();
  return {};
});
