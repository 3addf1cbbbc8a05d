// What the browser refuses is said in words: a second tab, a full device.
import assert from 'node:assert/strict';
import test from 'node:test';

import {withPhone} from './desk.mjs';

const messages = async phone => (await phone.marks()).filter(mark => mark.name.startsWith('message.')).map(mark => mark.text);

test('a second tab is refused in words, and the first one goes on', () => withPhone({example: true}, async phone => {
  const first = phone.page;
  const second = await phone.context.newPage();
  phone.watch(second);
  await second.goto(first.url().split('?')[0]);
  const said = async () => {
    const notice = await second.locator('#notice').textContent();
    const marks = await second.evaluate(() => Promise.race([
      window.tapwright?.marks().then(all => all.map(mark => mark.text).join(' ')), new Promise(done => setTimeout(done, 200, ''))]));
    return `${notice} ${marks ?? ''}`;
  };
  await phone.waits(async () => /another (tab|window)/i.test(await said()), 'a sentence about the other tab');
  await second.close();
  phone.page = first;
  await phone.findAndTap('rooms.new');
  await phone.findAndTap('rooms.add');
  await phone.waitsForText('kept', 'added');
}));

test('on a full device a change is refused in words, what was saved stays, and it goes on when there is room', () =>
  withPhone({example: true}, async phone => {
    phone.cdp ??= await phone.context.newCDPSession(phone.page);
    const origin = new URL(phone.page.url()).origin;
    const used = (await phone.page.evaluate(() => navigator.storage.estimate())).usage;
    await phone.findAndTap('room.r-foyer');
    await phone.cdp.send('Storage.overrideQuotaForOrigin', {origin, quotaSize: used + 1});
    const add = async () => {
      await phone.findAndTap('room.add');
      await phone.findAndTap('room.new.tap.0');
    };
    // The file has room of its own for a few changes.
    let said = [];
    for (let changes = 0; changes < 60 && said.length === 0; ++changes) {
      await add();
      said = (await messages(phone)).filter(text => /full|space|room on/i.test(text));
    }
    assert.equal(said.length, 1, `in words: ${await messages(phone)}`);
    await phone.cdp.send('Storage.overrideQuotaForOrigin', {origin});
    await phone.page.reload();
    await phone.started();
    await phone.findAndTap('opening.recent.0');
    await phone.findAndTap('room.r-foyer');
    await add();
    await phone.waitsForText('kept', 'Saved');
    phone.faults = phone.faults.filter(fault => !/quota/i.test(fault));
  }));
