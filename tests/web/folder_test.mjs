// What is in the folder for a host: small, whole, and as its service worker says.
import assert from 'node:assert/strict';
import {createHash} from 'node:crypto';
import * as fs from 'node:fs';
import * as path from 'node:path';
import test from 'node:test';
import {gzipSync} from 'node:zlib';

import {served} from './desk.mjs';
import {appFolder} from './phone.mjs';

const most = 1_000_000;  // docs/benchmarks.md says what it is made of
const read = name => fs.readFileSync(path.join(appFolder, name));
const names = fs.readdirSync(appFolder);

test('all of it has a size that a phone loads in seconds, typefaces included', () => {
  const bytes = names.reduce((sum, name) => sum + gzipSync(read(name), {level: 9}).length, 0);
  assert.ok(bytes <= most, `${bytes} bytes`);
  assert.ok(names.includes('app.wasm') && names.includes('inter-regular.otf') && names.includes('inter-semibold.otf'));
});

test('the service worker keeps every file, and knows its hash', () => {
  const contents = JSON.parse(/^const contents = (.*);\n/.exec(read('service_worker.js').toString())[1]);
  assert.deepEqual(Object.keys(contents.files), names.filter(name => !['service_worker.js', 'headers.txt'].includes(name)).sort());
  for (const [name, integrity] of Object.entries(contents.files))
    assert.equal(integrity, 'sha256-' + createHash('sha256').update(read(name)).digest('base64'), name);
});

test('the manifest names icons that are there, of the sizes it says', () => {
  const manifest = JSON.parse(read('manifest.webmanifest').toString());
  assert.equal(manifest.display, 'standalone');
  for (const {src, sizes, type} of manifest.icons) {
    const bytes = read(src);
    if (type === 'image/png') assert.equal(`${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}`, sizes, src);
    else assert.match(bytes.toString(), /<svg/);
  }
  for (const size of ['192x192', '512x512']) assert.ok(manifest.icons.some(icon => icon.sizes === size), size);
  assert.ok(manifest.icons.some(icon => icon.purpose === 'maskable'));
});

test('the page allows no script but its own files, in its head as in the header', async () => {
  const page = read('index.html').toString();
  const [, policy] = /http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(page);
  assert.match(policy, /default-src 'none'/);
  assert.match(policy, /script-src 'self' 'wasm-unsafe-eval';/);
  assert.doesNotMatch(policy, /unsafe-inline|'unsafe-eval'|https?:|\*/);
  assert.doesNotMatch(page, /<script(?![^>]*\bsrc=)|<style|\son\w+=|\sstyle=/);
  await served(async address => {
    const answer = await fetch(address);
    assert.equal(answer.headers.get('content-security-policy'), `${policy}; frame-ancestors 'none'`);
    const wasm = await fetch(`${address}app.wasm`);
    assert.equal(wasm.headers.get('content-type'), 'application/wasm');
    for (const outside of ['..%2fCMakeCache.txt', 'x/../../web/CMakeCache.txt', 'nothing.js', 'icons/'])
      assert.equal((await fetch(address + outside)).status, 404, outside);
    assert.equal((await fetch(address, {method: 'POST'})).status, 405);
  });
});
