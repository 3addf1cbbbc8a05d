// A job file goes from a desktop to a phone and back: the same job either way, and what both say of it is the same.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import * as fs from 'node:fs';
import * as path from 'node:path';
import test from 'node:test';

import {example, exported, handedOver, sealedCopy, tapwright, withPhone} from './desk.mjs';
import {temporaryFolder} from './phone.mjs';

test('a job file of the desktop opens on the phone, and comes back the same', () => withPhone({}, async phone => {
  const job = path.join(temporaryFolder(), 'house.tapjob');
  tapwright('import', example, job);
  await phone.find('opening.open');
  await phone.choose('opening.open', [job]);
  await phone.waitsFor('place.rooms');
  await phone.tap('place.rooms');
  await phone.waitsFor('room.r-foyer');
  assert.deepEqual(exported(await sealedCopy(phone)), exported(fs.readFileSync(job)));
}));

test('a job recorded on the phone is verified and goes on at the desktop', () => withPhone({example: true}, async phone => {
  await phone.findAndTap('rooms.new');
  await phone.findAndTap('rooms.add');
  await phone.waitsForText('kept', 'added');
  const json = await handedOver(phone, 'handover.json');
  const [name] = Object.keys(json).filter(each => each.endsWith('.json'));
  const job = path.join(temporaryFolder(), 'phone.tapjob');
  const bytes = await sealedCopy(phone);
  fs.writeFileSync(job, bytes);
  tapwright('verify', job);
  assert.deepEqual(exported(bytes), JSON.parse(json[name].toString()), 'the same under export');
  tapwright('set', job, 'r-foyer', 'notes=seen at the desk');
  const again = exported(fs.readFileSync(job));
  assert.equal(again.rooms.find(room => room.id === 'r-foyer').notes, 'seen at the desk');
  await phone.tap('place.rooms');
  if (await phone.has('header.back')) await phone.tap('header.back');
  await phone.tap('app.job');
  await phone.findAndTap('settings.other');
  await phone.find('opening.open');
  await phone.choose('opening.open', [job]);
  await phone.waits(async () => !await phone.has('opening.open'), 'the job');
  assert.deepEqual(exported(await sealedCopy(phone)), again);
}));

// The browser's SQLite has no views, triggers and the like (platform/web/sqlite_without.txt): a file with them is refused all the same.
test('a job file that another program altered is refused in words', () => withPhone({}, async phone => {
  const folder = temporaryFolder(), whole = path.join(folder, 'whole.tapjob');
  tapwright('import', example, whole);
  const altered = {
    view: 'CREATE VIEW v AS SELECT 1', trigger: 'CREATE TRIGGER t AFTER INSERT ON op BEGIN DELETE FROM batch; END',
    index: 'CREATE INDEX i ON op(id)', table: 'CREATE TABLE extra(a)', column: 'ALTER TABLE batch ADD COLUMN more TEXT',
    virtual: "PRAGMA writable_schema=ON; INSERT INTO sqlite_schema VALUES('table','f','f',0,'CREATE VIRTUAL TABLE f USING fts5(a)')",
    counted: 'CREATE TABLE c(a INTEGER PRIMARY KEY AUTOINCREMENT)', person: "UPDATE batch SET person='Eve'",
  };
  for (const [name, sql] of Object.entries(altered)) {
    const job = path.join(folder, `${name}.tapjob`);
    fs.copyFileSync(whole, job);
    execFileSync('sqlite3', [job, sql]);
    await phone.find('opening.open');
    await phone.choose('opening.open', [job]);
    await phone.waits(async () => (await phone.marks()).some(mark =>
      mark.text.includes(name) && /has other tables than a job file|is damaged/.test(mark.text)), `${name} refused`);
    assert.ok(!await phone.has('place.rooms'), name);
    await phone.tap('message.0.dismiss');
  }
}));

test('the sheets that the phone makes say what those of the desktop say', () => withPhone({}, async phone => {
  const folder = temporaryFolder(), job = path.join(folder, 'house.tapjob');
  tapwright('import', example, job);
  await phone.find('opening.open');
  await phone.choose('opening.open', [job]);
  await phone.waitsFor('place.rooms');
  for (const reader of ['owner', 'technician']) {
    const page = path.join(folder, `${reader}.html`);
    fs.copyFileSync(job, path.join(folder, 'copy.tapjob'));
    tapwright('sheet', path.join(folder, 'copy.tapjob'), page, '--for', reader);
    const made = Object.values(await handedOver(phone, `handover.${reader}`))[0].toString();
    // That a sheet was made is a change of its own: codes and hashes differ from the second one on.
    const told = text => text.replace(/[0-9A-F]{4}(-[0-9A-F]{4})+/gi, 'CODE').replace(/[0-9a-f]{64}/g, 'HASH');
    assert.equal(told(made), told(fs.readFileSync(page, 'utf8')));
  }
}));

test('a sheet is shown in a tab of its own, with its style', () => withPhone({example: true}, async phone => {
  await phone.keptOnDevice();
  await phone.tap('place.handover');
  await phone.findAndTap('handover.owner');
  const coming = phone.context.waitForEvent('page');
  await phone.findAndTap('made.open.0');
  const sheet = await coming;
  const refused = [];
  sheet.on('console', message => refused.push(message.text()));
  await sheet.waitForLoadState();
  assert.match(await sheet.locator('body').innerText(), /Tarn Street Community House/);
  assert.ok(await sheet.evaluate(() => document.styleSheets.length) > 0);
  assert.deepEqual(refused, []);
}));
