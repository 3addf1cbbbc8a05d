// The stories of tests/desktop, as a thumb does them: on a phone upright, on one that lies, and on a tablet.
import assert from 'node:assert/strict';
import test from 'node:test';

import {exported, handedOver, sealedCopy, tapKey, tickAllSteps, withPhone} from './desk.mjs';
import {landscape, portrait, tablet} from './phone.mjs';

for (const [name, size] of Object.entries({portrait, landscape, tablet})) {
  test(`${name}: a job of three rooms goes from nothing to the owner's sheet`, () => withPhone({size}, async phone => {
    await phone.findAndTap('opening.new');
    await phone.tapAll('place.lines', 'lines.add', 'place.rooms');
    for (let room = 0; room < 3; ++room) {
      await phone.findAndTap('rooms.new');
      await phone.findAndTap('rooms.add');
      await phone.findAndTap('room.add');
      await phone.findAndTap(await tapKey(phone, 'room.new.tap', '5 W'));
      await phone.findAndTap('room.same');
      await phone.findAndTap('room.many.add');
      await phone.tap('place.rooms');
    }
    await phone.tap('place.readings');
    await phone.findAndTap('readings.add');
    await phone.findAndTap('emergency.no');
    await tickAllSteps(phone);
    for (const key of ['pad.1', 'pad.6', 'pad.6', 'pad.keep']) await phone.findAndTap(key);
    const sheet = await handedOver(phone, 'handover.owner');
    const [file] = Object.keys(sheet);
    assert.match(file, /\.html$/);
    assert.match(sheet[file].toString(), /^<!DOCTYPE html>/);

    const job = exported(await sealedCopy(phone));
    assert.equal(job.rooms.length, 3);
    assert.deepEqual(job.points.map(point => point.tap_w), [5, 5, 5, 5, 5, 5]);
    assert.equal(job.readings[0].value, 166);
  }));
}

test('another tap is recorded by touch and taken back', () => withPhone({example: true}, async phone => {
  const before = exported(await sealedCopy(phone));
  const point = job => job.points.find(each => each.label === 'C-101');
  await phone.tap('place.rooms');
  await phone.findAndTap('room.r-foyer');
  await phone.findAndTap('point.s-101');
  await phone.findAndTap(await tapKey(phone, 'point.tap', '10 W'));
  await phone.waitsForText('kept', 'Saved');
  assert.equal(point(exported(await sealedCopy(phone))).tap_w, 10);
  await phone.tap('app.undo');
  await phone.waitsForText('kept', 'Undone');
  assert.deepEqual(point(exported(await sealedCopy(phone))), point(before));
}));

test('a reading a quarter low is called more load and kept as it was typed', () => withPhone({example: true}, async phone => {
  await phone.tap('place.readings');
  await phone.findAndTap('readings.zone.z-3');
  await phone.findAndTap('at.add');
  await tickAllSteps(phone);
  await phone.waitsFor('pad.keep');
  await phone.tapAll('pad.3', 'pad.2');  // where 43.2 Ω are expected
  await phone.waitsForText('entry.verdict', 'More load');
  await phone.findAndTap('pad.keep');
  await phone.waitsForText('at.newest', 'More load');
  const reading = exported(await sealedCopy(phone)).readings.at(-1);
  assert.equal(reading.value, 32);
  assert.equal(reading.at, 'z-3');
}));

test('a room is named by typing, with what an input method writes and what is corrected', () => withPhone({example: true},
  async phone => {
    await phone.findAndTap('rooms.new');
    await phone.findAndTap('rooms.name');
    await phone.type('Küche ');
    phone.cdp ??= await phone.context.newCDPSession(phone.page);
    await phone.cdp.send('Input.imeSetComposition', {text: 'そうこ', selectionStart: 3, selectionEnd: 3});
    await phone.cdp.send('Input.insertText', {text: '倉庫'});
    await phone.settle();
    await phone.waitsForText('rooms.name', 'Küche 倉庫');
    await phone.findAndTap('rooms.add');
    assert.ok(exported(await sealedCopy(phone)).rooms.some(room => room.name === 'Küche 倉庫'));
  }));
