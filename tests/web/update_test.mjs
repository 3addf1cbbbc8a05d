// Another version on the host: it is offered in words, comes only when the person says so, and loses nothing.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import * as fs from 'node:fs';
import * as path from 'node:path';
import test from 'node:test';

import {openLastJob} from './desk.mjs';
import {serve} from '../../platform/web/pack/serve.mjs';
import {appFolder, Phone, sourceFolder, temporaryFolder} from './phone.mjs';

// The app packed anew with one more file, which makes it another version.
function packed(folder, note) {
  const parts = path.join(temporaryFolder(), 'parts');
  fs.cpSync(appFolder, parts, {recursive: true});
  const worker = path.join(parts, 'service_worker.js');
  fs.writeFileSync(worker, fs.readFileSync(worker, 'utf8').replace(/^const contents = .*\n/, ''));
  fs.writeFileSync(path.join(parts, 'note.txt'), note);
  execFileSync(process.execPath, [path.join(sourceFolder, 'platform/web/pack/pack.mjs'), folder, parts]);
}

const note = phone => phone.page.evaluate(async () => (await fetch('note.txt')).text());
const offer = phone => phone.page.locator('#offer');
const look = phone => phone.page.evaluate(async () => { await (await navigator.serviceWorker.ready).update(); });

test('with a job open an update is offered, waits over a new start, and comes when the person says so', async () => {
  const site = path.join(temporaryFolder(), 'site'), folder = temporaryFolder();
  packed(site, 'older');
  const {server, address} = await serve(site, 0);
  try {
    let phone = await Phone.start({folder});
    await phone.open(address, {example: true});
    await phone.keptOnDevice();
    assert.equal(await note(phone), 'older');
    assert.equal(await offer(phone).isVisible(), false);

    packed(site, 'newer');
    await look(phone);
    await offer(phone).waitFor({state: 'visible'});
    assert.match(await offer(phone).innerText(), /version/i);
    await phone.findAndTap('rooms.new');  // the work goes on meanwhile
    await phone.findAndTap('rooms.add');
    await phone.waitsForText('kept', 'added');
    assert.equal(await note(phone), 'older');
    phone.assertNoFaults();
    await phone.close();

    phone = await Phone.start({folder});
    await phone.open(address);
    assert.equal(await note(phone), 'older', 'a new start does not force it');
    await offer(phone).waitFor({state: 'visible'});
    await openLastJob(phone);
    await phone.findAndTap('rooms.new');
    await phone.findAndTap('rooms.add');
    const loaded = phone.page.waitForEvent('load');
    await offer(phone).getByRole('button').first().tap();
    await loaded;
    await phone.started();
    assert.equal(await note(phone), 'newer');
    assert.equal(await offer(phone).isVisible(), false);
    await openLastJob(phone);
    await phone.waitsFor('rooms.new');
    const rooms = (await phone.marks()).filter(mark => /^Room \d/.test(mark.text) && mark.name.startsWith('room.'));
    assert.equal(rooms.length, 2, 'both rooms of the older version are there');
    phone.assertNoFaults();
    await phone.close();
  } finally {
    server.closeAllConnections();
    server.close();
  }
});

test('a host that is halfway through an update gives no mixture of versions', async () => {
  const site = path.join(temporaryFolder(), 'site');
  packed(site, 'older');
  const {server, address} = await serve(site, 0);
  try {
    const phone = await Phone.start();
    await phone.open(address);
    await phone.keptOnDevice();
    const newer = path.join(temporaryFolder(), 'newer');
    packed(newer, 'newer');
    fs.copyFileSync(path.join(newer, 'service_worker.js'), path.join(site, 'service_worker.js'));  // note.txt is still the old one
    await look(phone).catch(() => {});
    await phone.page.waitForFunction(async () => !(await navigator.serviceWorker.ready).installing);
    await phone.page.reload();
    await phone.started();
    assert.equal(await note(phone), 'older');
    assert.equal(await offer(phone).isVisible(), false);
    await phone.close();
  } finally {
    server.closeAllConnections();
    server.close();
  }
});
