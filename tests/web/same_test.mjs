// The program says the same in a browser as on a desktop: every sentence and both sheets letter for letter, every number
// within a millionth of a millionth. figures.cpp, built for both, prints them of the example job.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import * as path from 'node:path';
import test from 'node:test';

import {example} from './desk.mjs';
import {temporaryFolder} from './phone.mjs';

const most = 1e-12;

function figures(...program) {
  const [file, ...before] = program;
  const text = execFileSync(file, [...before, example, path.join(temporaryFolder(), 'job.tapjob')],
    {encoding: 'utf8', maxBuffer: 1 << 28, env: {...process.env, TZ: 'UTC', LC_ALL: 'C.UTF-8'}});
  return JSON.parse(text);
}

// Calls `see` with each leaf of `a` and what stands in its place in `b`.
function pairs(a, b, place, see) {
  if (a === null || typeof a !== 'object') return see(a, b, place);
  assert.deepEqual(Object.keys(b ?? {}), Object.keys(a), place);
  for (const key of Object.keys(a)) pairs(a[key], b[key], `${place}/${key}`, see);
}

test('sentences and sheets are the same letter for letter, numbers within 1e-12', () => {
  const here = figures(process.env.TAPWRIGHT_FIGURES);
  const web = figures(process.execPath, process.env.TAPWRIGHT_WEB_FIGURES);
  let numbers = 0, texts = 0;
  pairs(here, web, '', (a, b, place) => {
    if (typeof a !== 'number') {
      texts += typeof a === 'string';
      return assert.equal(b, a, place);
    }
    ++numbers;
    assert.ok(Math.abs(a - b) <= most * Math.max(1, Math.abs(a)), `${place}: ${a} here, ${b} in a browser`);
  });
  assert.ok(numbers > 200 && texts > 200, `${numbers} numbers, ${texts} texts`);
});
