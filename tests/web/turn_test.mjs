// The phone is turned in the middle of an entry: what was entered stays, and so does the place.
import assert from 'node:assert/strict';
import test from 'node:test';

import {exported, sealedCopy, tickAllSteps, withPhone} from './desk.mjs';
import {landscape, portrait, tablet} from './phone.mjs';

test('digits on the pad outlast turning the phone, and so does the reading', () => withPhone({example: true}, async phone => {
  await phone.tap('place.readings');
  await phone.findAndTap('readings.zone.z-3');
  await phone.findAndTap('at.add');
  await tickAllSteps(phone);
  await phone.tapAll('pad.1', 'pad.2');
  await phone.turn(landscape);
  await phone.findAndTap('pad.3');
  await phone.turn(portrait);
  await phone.findAndTap('pad.keep');
  await phone.waitsFor('kept');
  assert.equal(exported(await sealedCopy(phone)).readings.at(-1).value, 123);
}));

test('a name that is being typed outlasts turning the phone', () => withPhone({example: true}, async phone => {
  await phone.findAndTap('rooms.new');
  await phone.findAndTap('rooms.name');
  await phone.type('Lager');
  await phone.turn(landscape);
  await phone.find('rooms.name');
  assert.match(await phone.text('rooms.name'), /Lager/);
  await phone.tap('rooms.name');
  await phone.type(' 2');
  await phone.turn(tablet);
  await phone.findAndTap('rooms.add');
  assert.ok(exported(await sealedCopy(phone)).rooms.some(room => room.name === 'Lager 2'));
}));
