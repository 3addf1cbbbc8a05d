// What the browser refuses is said in words: a second tab, a full device.
import assert from 'node:assert/strict';
import * as fs from 'node:fs';
import * as path from 'node:path';
import test from 'node:test';

import {openLastJob, withPhone} from './desk.mjs';
import {temporaryFolder} from './phone.mjs';

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

// A photo that nothing makes small, since every pixel is its own. Each is another.
async function noise(phone) {
  const bytes = await phone.page.evaluate(async () => {
    const canvas = new OffscreenCanvas(1600, 1200), pen = canvas.getContext('2d');
    const pixels = pen.createImageData(1600, 1200);
    for (let at = 0; at < pixels.data.length; at += 65536) crypto.getRandomValues(pixels.data.subarray(at, at + 65536));
    for (let at = 3; at < pixels.data.length; at += 4) pixels.data[at] = 255;
    pen.putImageData(pixels, 0, 0);
    const blob = await canvas.convertToBlob({type: 'image/jpeg', quality: 0.95});
    const reader = new FileReader();
    return new Promise(done => {
      reader.onload = () => done(reader.result.split(',')[1]);
      reader.readAsDataURL(blob);
    });
  });
  const file = path.join(temporaryFolder(), 'noise.jpg');
  fs.writeFileSync(file, Buffer.from(bytes, 'base64'));
  return file;
}

test('on a full device a photo is refused in words, what was saved stays, and it goes on when there is room', () =>
  withPhone({example: true}, async phone => {
    phone.cdp ??= await phone.context.newCDPSession(phone.page);
    const origin = new URL(phone.page.url()).origin;
    const photos = async () => (await phone.marks()).filter(mark => mark.name.startsWith('photo.')).length;
    await phone.findAndTap('room.r-foyer');
    await phone.findAndTap('room.photos');
    const {usage} = await phone.page.evaluate(() => navigator.storage.estimate());
    await phone.cdp.send('Storage.overrideQuotaForOrigin', {origin, quotaSize: usage});
    // The browser grants a file some room ahead, so the first ones may still go in.
    let kept = 0;
    for (let tries = 0; tries < 6 && (await messages(phone)).length === 0; ++tries) {
      kept = await photos();
      await phone.choose('photos.add', [await noise(phone)]);
      await phone.waits(async () => await photos() > kept || (await messages(phone)).length > 0, 'a photo or a sentence');
    }
    const said = await messages(phone);
    assert.match(said.join(' '), /full|room|space/i);
    assert.equal(await photos(), kept);
    await phone.cdp.send('Storage.overrideQuotaForOrigin', {origin});
    await phone.page.reload();
    await phone.started();
    await openLastJob(phone);
    await phone.findAndTap('room.r-foyer');
    await phone.findAndTap('room.photos');
    await phone.waits(async () => await photos() === kept, `${kept} photos`);
    await phone.choose('photos.add', [await noise(phone)]);
    await phone.waits(async () => await photos() === kept + 1, 'one more');
  }));
