// The page's scripts keep to their types, as the TypeScript compiler reads them.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { check, version } from './desk.mjs';

await check([version('typescript')], async () => {
  const place = join(import.meta.dirname, '../../../src/desk/page');
  const scripts = readdirSync(place).filter((name) => name.endsWith('.js') || name.endsWith('.d.ts'));
  const tsc = join(process.env.ANSATA_NODE, 'node_modules/.bin/tsc');
  const ended = spawnSync(tsc, ['--noEmit', '--allowJs', '--checkJs', '--strict', '--noUnusedLocals', '--target', 'es2022',
    '--module', 'es2022', '--moduleResolution', 'bundler', '--lib', 'es2023,dom,dom.iterable', '--types', '', ...scripts],
  { cwd: place, encoding: 'utf8' });
  assert.equal(ended.status, 0, ended.stdout + ended.stderr);
  return { scripts: scripts.length };
});
