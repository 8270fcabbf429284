// A desk and a browser for one check, both closed at its end. The checks run under node; what
// they need beside it lies where ANSATA_NODE says, and the program is what ANSATA names.
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';

export const need = createRequire(join(process.env.ANSATA_NODE ?? process.cwd(), 'package.json'));
export const layouts = join(import.meta.dirname, '../../../layouts');

/** Flags without which Chromium asks for things outside this machine, or will not run as root. */
const FLAGS = ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync'];

const ending = [];

/** Runs one check: its answer is printed as JSON, with the versions of what looked on. */
export async function check(versions, run) {
  try {
    const answer = await run();
    console.log(JSON.stringify({ versions: versions.join(', '), ...answer }));
  } finally {
    for (const end of ending.reverse()) await end();
  }
}

/** An empty folder, or one with shipped layouts. */
export function folder(...shipped) {
  const made = mkdtempSync(join(tmpdir(), 'ansata-desk-'));
  for (const name of shipped) cpSync(join(layouts, name), join(made, name));
  ending.push(() => rmSync(made, { recursive: true, force: true }));
  return made;
}

/** A desk on a folder; its address ends with a stroke. */
export async function desk(on) {
  const program = spawn(process.env.ANSATA, ['desk', '--no-browser', on], { stdio: ['ignore', 'pipe', 'inherit'] });
  const ended = new Promise((done) => program.on('exit', done));
  ending.push(async () => { program.kill('SIGTERM'); await ended; });
  for await (const line of createInterface({ input: program.stdout })) {
    const address = line.trim();
    if (address.startsWith('http://')) return { address, program, ended };
  }
  throw new Error('the desk did not open');
}

/** Runs the program to its end; gives what it printed. */
export async function ansata(on, ...args) {
  const program = spawn(process.env.ANSATA, args, { cwd: on, stdio: ['ignore', 'pipe', 'pipe'] });
  let out = '';
  program.stdout.on('data', (data) => { out += data; });
  program.stderr.on('data', (data) => { out += data; });
  const status = await new Promise((done) => program.on('exit', done));
  return { status, out };
}

export const version = (name) => `${name} ${JSON.parse(readFileSync(join(process.env.ANSATA_NODE, 'node_modules', name, 'package.json'), 'utf8')).version}`;

/** Debian's Chromium. */
export async function chromium() {
  const { chromium } = need('playwright-core');
  const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: FLAGS });
  ending.push(() => browser.close());
  return browser;
}

/**
 * A page that is held to silence: no error, no refusal by its own policy, nothing asked of
 * anyone but the desk. `quiet()` says whether it kept it.
 */
export async function page(browser, address, options = {}) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  const page = await context.newPage();
  const said = [];
  page.on('console', (message) => { if (message.type() !== 'log') said.push(`${message.type()}: ${message.text()} ${message.location().url}`); });
  page.on('pageerror', (error) => said.push(`error: ${error.message}`));
  page.on('request', (request) => {
    const url = request.url();
    if (!/^(data|blob):/.test(url) && !url.startsWith(new URL(address).origin)) said.push(`asked outside: ${url}`);
  });
  // Long, since other checks may keep the machine busy; nothing here is timed.
  page.setDefaultTimeout(60_000);
  await page.goto(address);
  await page.waitForSelector('h1');
  return { page, context, quiet: () => assert.deepEqual(said, []) };
}

/** Until the page says that all is saved. */
export async function saved(page) {
  await page.waitForFunction(() => document.querySelector('[data-saved]')?.getAttribute('data-saved') === 'yes');
}
