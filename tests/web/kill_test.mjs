// Every process of the browser is killed right after the app has said that a change is saved: nothing of it is lost.
import assert from 'node:assert/strict';
import test from 'node:test';

import {openLastJob, served} from './desk.mjs';
import {kill, Phone, temporaryFolder} from './phone.mjs';

const times = Number(process.env.TAPWRIGHT_KILLS || 5);
const chosen = marks => marks.find(mark => /^point\.tap\.\d+$/.test(mark.name) && / chosen$/.test(mark.text))?.name;

async function openPoint(phone, address, isFirst) {
  await phone.open(address, {example: isFirst});
  if (!isFirst) await openLastJob(phone);
  await phone.findAndTap('room.r-foyer');
  await phone.findAndTap('point.s-101');
  await phone.waitsFor('point.tap.0');
}

test(`a tap said to be saved is there after each of ${times} kills`, async () => {
  await served(async address => {
    const folder = temporaryFolder();
    let expected = null;
    for (let time = 0; time <= times; ++time) {
      const phone = await Phone.start({folder});
      await openPoint(phone, address, time === 0);
      const now = chosen(await phone.marks());
      if (expected !== null) assert.equal(now, expected, `after kill ${time}`);
      if (time === times) {
        await phone.close();
        return;
      }
      expected = now === 'point.tap.1' ? 'point.tap.2' : 'point.tap.1';
      await phone.find(expected);
      await phone.page.touchscreen.tap(...await phone.middle(await phone.mark(expected)));
      await phone.waits(async () => chosen(await phone.marks()) === expected, `${expected} chosen`);
      await kill(phone);
    }
  });
});
