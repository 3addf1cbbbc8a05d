// A start that goes wrong: what can be helped is helped, the rest is said in words.
import assert from 'node:assert/strict';
import * as fs from 'node:fs';
import * as path from 'node:path';
import test from 'node:test';

import {served} from './desk.mjs';
import {appFolder, Phone} from './phone.mjs';

// A phone at the app for the length of `use`; for its file `name` it gets `answer`.
async function withAnswer(name, answer, use) {
  await served(async address => {
    const phone = await Phone.start();
    try {
      await phone.page.route(`**/${name}`, route => route.fulfill(answer));
      await use(phone, address);
    } finally {
      await phone.close();
    }
  });
}

const fileOf = name => fs.readFileSync(path.join(appFolder, name));

async function notice(phone) {
  const place = phone.page.locator('#notice');
  await place.waitFor({state: 'visible'});
  return place.textContent();
}

test('a host that calls the program another type of file starts it all the same', async () => {
  await withAnswer('app.wasm', {contentType: 'application/octet-stream', body: fileOf('app.wasm')}, async (phone, address) => {
    await phone.open(address, {example: true});
    assert.ok(await phone.has('place.rooms'));
    phone.assertNoFaults();
  });
});

test('a program that came half, or not at all, is said in words', async () => {
  const half = fileOf('app.wasm').subarray(0, 100_000);
  for (const answer of [{contentType: 'application/wasm', body: half}, {status: 404, body: 'not here'}])
    await withAnswer('app.wasm', answer, async (phone, address) => {
      await phone.page.goto(address);
      assert.match(await notice(phone), /could not be loaded\. Check the connection/);
    });
});

test('a browser that draws nothing with WebGL is said in words', async () => {
  const body = 'OffscreenCanvas.prototype.getContext = () => null;' + fileOf('worker.js');
  await withAnswer('worker.js', {contentType: 'text/javascript', body}, async (phone, address) => {
    await phone.page.goto(address);
    assert.match(await notice(phone), /draws with WebGL, which this browser refuses/);
  });
});
