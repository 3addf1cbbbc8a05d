// Without a network: the app starts from the device, in a browser that was closed in between, and the job is there.
import assert from 'node:assert/strict';
import test from 'node:test';

import {openLastJob, served} from './desk.mjs';
import {Phone, temporaryFolder} from './phone.mjs';

test('with the server stopped a new browser starts the app, opens the job and records in it', async () => {
  const folder = temporaryFolder();
  const address = await served(async there => {
    const phone = await Phone.start({folder});
    await phone.open(there, {example: true});
    await phone.keptOnDevice();
    await phone.findAndTap('room.r-foyer');
    await phone.settle();
    phone.assertNoFaults();
    await phone.close();
    return there;
  });
  await assert.rejects(fetch(address), 'the server has stopped');
  const phone = await Phone.start({folder});
  await phone.open(address);
  await openLastJob(phone);
  await phone.findAndTap('rooms.new');
  await phone.findAndTap('rooms.add');
  await phone.waitsForText('kept', 'added');
  phone.assertNoFaults();
  await phone.close();
});

test('nothing is asked of any other place, and of ours nothing that is not kept', async () => {
  await served(async address => {
    const phone = await Phone.start();
    const asked = [];
    phone.context.on('request', request => asked.push(request.url()));
    await phone.open(address);
    await phone.keptOnDevice();
    assert.ok(asked.length > 5);
    for (const url of asked) assert.ok(url.startsWith(address) || url.startsWith('blob:'), url);
    const kept = await phone.page.evaluate(async () => {
      const urls = [];
      for (const name of await caches.keys())
        for (const request of await (await caches.open(name)).keys()) urls.push(request.url);
      return urls;
    });
    for (const url of asked.map(each => each.split('?')[0]))
      assert.ok(url === address || url.endsWith('/service_worker.js') || kept.includes(url), url);
    phone.assertNoFaults();
    await phone.close();
  });
});
