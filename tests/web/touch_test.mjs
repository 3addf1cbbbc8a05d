// What a touch device has besides a picture: a keyboard over the page, notches, a size of text, a gesture back, a screen
// that goes dark, a motor that is felt.
import assert from 'node:assert/strict';
import * as fs from 'node:fs';
import * as path from 'node:path';
import test from 'node:test';

import {tickAllSteps, withPhone} from './desk.mjs';
import {portrait, temporaryFolder} from './phone.mjs';

const reads = phone => phone.page.evaluate(() => window.tapwright.read());
const height = phone => phone.page.evaluate(() => document.getElementById('canvas').clientHeight);

async function openRoomSettings(phone) {
  await phone.findAndTap('room.r-foyer');
  await phone.findAndTap('room.details');
}

/** The field farthest down the page. */
async function lastField(phone) {
  const fields = (await phone.marks()).filter(mark => / field$/.test(mark.role) && mark.enabled);
  return fields.at(-1).name;
}

test('a keyboard that takes its part of the window never lies over the field in hand', () =>
  withPhone({example: true}, async phone => {
    await openRoomSettings(phone);
    const name = await lastField(phone);
    await phone.findAndTap(name);
    await phone.turn({width: portrait.width, height: 430});
    assert.ok(await phone.sees(name));
    await phone.type('seen');
    assert.match(await phone.text(name), /seen/);
    await phone.turn(portrait);
    assert.ok(await phone.sees(name));
  }));

test('where a keyboard lies over the page the program has what is free', () => withPhone({example: true}, async phone => {
  await openRoomSettings(phone);
  const name = await lastField(phone);
  await phone.findAndTap(name);
  // As browsers do that leave the page as large as it was.
  await phone.page.evaluate(() => {
    Object.defineProperty(visualViewport, 'height', {configurable: true, get: () => 430});
    visualViewport.dispatchEvent(new Event('resize'));
  });
  await phone.settle();
  assert.equal(await height(phone), 430);
  assert.ok(await phone.sees(name));
  await phone.page.evaluate(() => {
    delete visualViewport.height;
    visualViewport.dispatchEvent(new Event('resize'));
  });
  await phone.settle();
  assert.equal(await height(phone), portrait.height);
}));

test('what is typed as a name or a code is not corrected, a sentence is, and the field begins with what stands there', () =>
  withPhone({example: true}, async phone => {
    const asked = () => phone.page.$eval('#field', field => ({
      capital: field.getAttribute('autocapitalize'), correct: field.getAttribute('autocorrect'), spelled: field.spellcheck,
      value: field.value}));
    await openRoomSettings(phone);
    await phone.findAndTap('room.name');
    assert.deepEqual(await asked(), {capital: 'off', correct: 'off', spelled: false, value: 'Foyer'});
    await phone.findAndTap('room.notes');
    const notes = await asked();
    assert.deepEqual([notes.capital, notes.correct, notes.spelled], ['sentences', 'on', true]);
    assert.equal(notes.value, (await phone.mark('room.notes')).value);
  }));

test('notches and rounded corners are left free', () => withPhone({example: true}, async phone => {
  const session = await phone.context.newCDPSession(phone.page);
  await session.send('Emulation.setSafeAreaInsetsOverride', {insets: {top: 47, bottom: 34}});
  await phone.settle();
  const box = await phone.page.$eval('#canvas', canvas => canvas.getBoundingClientRect().toJSON());
  assert.equal(box.top, 47);
  assert.equal(box.bottom, portrait.height - 34);
  const places = await phone.mark('place.rooms');
  assert.ok(places.rect[1] + places.rect[3] <= box.height);
  await phone.tapAt(places.rect[0] + places.rect[2] / 2, box.top + places.rect[1] + places.rect[3] / 2);
  assert.ok((await phone.mark('place.rooms')).on, 'a touch lands where the program drew it');
}));

test('text is as large as the device is set to', () => {
  const folder = temporaryFolder();
  fs.mkdirSync(path.join(folder, 'Default'), {recursive: true});
  fs.writeFileSync(path.join(folder, 'Default', 'Preferences'),
    JSON.stringify({webkit: {webprefs: {default_font_size: 24}}}));
  return withPhone({example: true, folder}, async phone => {
    const row = (await phone.marks()).find(mark => mark.name === 'header.title');
    assert.equal(row.rect[3], 48 * 1.5);
  });
});

test('back goes back inside the program, and leaves it only from a first page', () =>
  withPhone({example: true}, async phone => {
    const title = () => phone.text('header.title');
    const back = async () => {
      await phone.page.evaluate(() => history.back());
      await phone.page.waitForTimeout(100);
      await phone.settle();
      await reads(phone);
    };
    await openRoomSettings(phone);
    await reads(phone);
    const inner = await title();
    await phone.findAndTap('room.name');
    await phone.type(' 2');
    await back();
    assert.notEqual(await title(), inner);
    assert.equal((await phone.mark('header.title')).text, 'Foyer 2', 'what was typed is kept');
    await back();
    assert.equal(await title(), 'Rooms');
    await phone.tap('place.readings');
    await phone.findAndTap('readings.add');
    await reads(phone);
    assert.ok((await phone.marks()).some(mark => mark.dialog));
    await back();
    assert.ok(!(await phone.marks()).some(mark => mark.dialog), 'the dialog is closed');
    assert.equal(await phone.page.evaluate(() => history.state?.inside ?? false), false);
  }));

const watchDevice = () => {
  window.felt = [];
  window.locks = [];
  Object.defineProperty(navigator, 'vibrate', {value: pattern => { window.felt.push(pattern); return true; }});
  Object.defineProperty(navigator, 'wakeLock', {value: {request: async kind => {
    const lock = new EventTarget();
    lock.kind = kind;
    lock.released = false;
    lock.release = async () => { lock.released = true; lock.dispatchEvent(new Event('release')); };
    window.locks.push(lock);
    return lock;
  }}});
};

test('the screen stays on while a job is open, and saving and stop are felt', () => withPhone({}, async phone => {
  await phone.context.addInitScript(watchDevice);
  await phone.page.reload();
  await phone.started();
  await reads(phone);
  assert.deepEqual(await phone.page.evaluate(() => window.locks.length), 0, 'no job is open');
  await phone.findAndTap('opening.new');
  await reads(phone);
  await phone.tap('place.rooms');
  assert.deepEqual(await phone.page.evaluate(() => window.locks.map(lock => [lock.kind, lock.released])), [['screen', false]]);
  await phone.page.evaluate(() => { window.felt = []; });
  await phone.findAndTap('rooms.new');
  await phone.findAndTap('rooms.add');
  await phone.waitsFor('kept');
  assert.deepEqual(await phone.page.evaluate(() => window.felt), [[15]]);
}));

test('a verdict that says stop is felt', () => withPhone({example: true}, async phone => {
  await phone.context.addInitScript(watchDevice);
  await phone.page.reload();
  await phone.started();
  await phone.waitsFor('place.readings');
  await phone.tap('place.readings');
  await phone.findAndTap('readings.zone.z-3');
  await phone.findAndTap('at.add');
  await tickAllSteps(phone);
  await phone.page.evaluate(() => { window.felt = []; });
  await phone.tap('pad.1');
  await reads(phone);
  const verdict = await phone.mark('entry.verdict');
  assert.deepEqual([verdict.role, await phone.page.evaluate(() => window.felt)], ['alert', [[70, 50, 70]]]);
}));

test('a page that is hidden has kept what was being typed', () => withPhone({example: true}, async phone => {
  await openRoomSettings(phone);
  await phone.findAndTap('room.name');
  await phone.type(' 3');
  await phone.page.evaluate(() => {
    Object.defineProperty(document, 'hidden', {configurable: true, get: () => true});
    document.dispatchEvent(new Event('visibilitychange'));
  });
  await phone.page.waitForTimeout(200);
  await phone.page.evaluate(() => {
    delete document.hidden;
    document.dispatchEvent(new Event('visibilitychange'));
  });
  await phone.settle();
  assert.equal(await phone.text('room.name'), 'Foyer 3');
  assert.notEqual((await phone.mark('room.name')).focused && (await phone.text('kept')), '', 'it is saved');
}));

test('with a keyboard that has a Ctrl key, what is typed after Ctrl and A takes the place of what stood there', () =>
  withPhone({example: true}, async phone => {
    await openRoomSettings(phone);
    const name = await lastField(phone);
    await phone.findAndTap(name);
    await phone.type('once');
    await phone.press('Control+a');
    await phone.type('anew');
    const text = await phone.text(name);
    assert.match(text, /anew/);
    assert.doesNotMatch(text, /once/);
  }));
