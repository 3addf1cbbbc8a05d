// A job file goes from a desktop to a phone and back: the same job either way, and what both say of it is the same.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import * as fs from 'node:fs';
import * as path from 'node:path';
import test from 'node:test';

import {example, exported, handedOver, savedAtOnce, sealedCopy, tapwright, withPhone} from './desk.mjs';
import {temporaryFolder} from './phone.mjs';

/** The example as a job file of the desktop's, open on the phone. Returns: its path. */
async function openOfDesktop(phone) {
  const job = path.join(temporaryFolder(), 'house.tapjob');
  tapwright('import', example, job);
  await phone.find('opening.open');
  await phone.choose('opening.open', [job]);
  await phone.waitsFor('place.rooms');
  return job;
}

test('a job file of the desktop opens on the phone, and comes back the same', () => withPhone({}, async phone => {
  const job = await openOfDesktop(phone);
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

// That a sheet was made is a change of its own: codes and hashes differ from the second one on.
const told = text => text.replace(/[0-9A-F]{4}(-[0-9A-F]{4})+/gi, 'CODE').replace(/[0-9a-f]{64}/g, 'HASH');

test('the sheets that the phone makes say what those of the desktop say', () => withPhone({}, async phone => {
  const job = await openOfDesktop(phone), folder = path.dirname(job);
  for (const reader of ['owner', 'technician']) {
    const page = path.join(folder, `${reader}.html`);
    fs.copyFileSync(job, path.join(folder, 'copy.tapjob'));
    tapwright('sheet', path.join(folder, 'copy.tapjob'), page, '--for', reader);
    const made = Object.values(await handedOver(phone, `handover.${reader}`))[0].toString();
    assert.equal(told(made), told(fs.readFileSync(page, 'utf8')));
  }
}));

test('labels and tables that the phone makes are those of the desktop', () => withPhone({}, async phone => {
  const job = await openOfDesktop(phone), folder = path.dirname(job), labels = path.join(folder, 'labels.html');
  tapwright('labels', job, labels);
  const [page] = Object.values(await handedOver(phone, 'handover.labels'));
  assert.equal(told(page.toString()), told(fs.readFileSync(labels, 'utf8')));
  const tables = path.join(folder, 'tables');
  tapwright('export', job, tables);
  const made = await savedAtOnce(phone, 'handover.csv');
  assert.deepEqual(Object.keys(made).sort(), fs.readdirSync(tables).map(name => `house ${name}`).sort());
  for (const name of fs.readdirSync(tables))
    assert.equal(made[`house ${name}`].toString(), fs.readFileSync(path.join(tables, name), 'utf8'), name);
}));

test('a sheet is printed from a frame of its own, with its style', () => withPhone({example: true}, async phone => {
  // Instead of the browser's own dialog, which no test can answer: what would be on the paper.
  await phone.context.addInitScript(() => {
    window.print = () => { window.top.printed = {text: document.body.innerText, styles: document.styleSheets.length}; };
  });
  await phone.keptOnDevice();
  await phone.page.reload();
  await phone.started();
  await phone.tap('place.handover');
  await phone.findAndTap('handover.owner');
  await phone.tap('made.print.0');
  const printed = await phone.waits(() => phone.page.evaluate(() => window.printed), 'the paper');
  assert.match(printed.text, /Tarn Street Community House/);
  assert.ok(printed.styles > 0);
}));

test('a job as a file or as JSON is opened where it is dropped on the page', () => withPhone({}, async phone => {
  const folder = temporaryFolder(), job = path.join(folder, 'dropped.tapjob');
  tapwright('import', example, job);
  await phone.drop([job]);
  await phone.waitsFor('place.rooms');
  const whole = exported(fs.readFileSync(job));
  assert.deepEqual(exported(await sealedCopy(phone)), whole);
  const other = path.join(folder, 'other.json');
  fs.writeFileSync(other, JSON.stringify({...whole, job: {...whole.job, name: 'Dropped House'}}));
  await phone.drop([other]);
  await phone.waits(async () => exported(await sealedCopy(phone)).job.name === 'Dropped House', 'the job from JSON');
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
