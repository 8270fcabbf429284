// Debian's Firefox, driven by WebDriver BiDi (W3C): what is typed is on the plaque and in the
// file, undone by keys, and nothing goes wrong on the way.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { check, desk, folder, need, version } from './desk.mjs';

await check([version('puppeteer-core')], async () => {
  const on = folder('dedication.toml');
  const before = readFileSync(join(on, 'dedication.toml'), 'utf8');
  const { address } = await desk(on);
  const puppeteer = need('puppeteer-core');
  const browser = await puppeteer.launch({ browser: 'firefox', executablePath: '/usr/bin/firefox-esr', headless: true });
  try {
    const page = await browser.newPage();
    page.setDefaultTimeout(60_000);
    const said = [];
    page.on('console', (message) => { if (message.type() === 'error' || message.type() === 'warn') said.push(message.text()); });
    page.on('pageerror', (error) => said.push(error.message));
    await page.setViewport({ width: 800, height: 900 });
    await page.goto(`${address}?layout=dedication.toml`);
    await page.waitForSelector('body[data-ready] #line-1');
    const saved = () => page.waitForSelector('body[data-saved=yes]');
    const file = () => readFileSync(join(on, 'dedication.toml'), 'utf8');

    await page.focus('#line-1');
    await page.keyboard.press('End');
    await page.keyboard.type(' TOWER');
    await saved();
    assert.ok(file().includes('"MARROWBY VALE TOWER"'), file());
    const height = await page.$eval('li.line .measure b', (b) => b.textContent);
    assert.match(height, /^\d+\.\d\d$/);
    const front = await page.$$eval('svg', (all) => all.map((svg) => svg.textContent).join(' '));
    assert.ok(front.includes('MARROWBY VALE TOWER'), 'the plaque does not read what was typed');

    await page.keyboard.down('Control');
    await page.keyboard.press('z');
    await page.keyboard.up('Control');
    await saved();
    assert.equal(file(), before);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    assert.ok(over <= 0, `the page is ${over} px too wide`);
    assert.deepEqual(said, []);
    return { browser: await browser.version() };
  } finally {
    await browser.close();
  }
});
