// A photo that tells where it was taken goes into a job: the picture comes out, the place does not, from any copy.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import * as fs from 'node:fs';
import * as path from 'node:path';
import test from 'node:test';

import {exported, handedOver, sealedCopy, tapwright, withPhone} from './desk.mjs';
import {temporaryFolder} from './phone.mjs';

// Degrees, minutes and seconds that no other bytes of a job look like.
const place = [47, 13, 571931];
const maker = 'Camera of one Ada Quill';

// An Exif segment: turned by a quarter, the camera's maker, and a GPS directory with a latitude.
function exif() {
  const tiff = Buffer.alloc(256);
  tiff.write('II');
  tiff.writeUInt16LE(42, 2);
  tiff.writeUInt32LE(8, 4);
  const entry = (at, tag, type, count, value) => {
    tiff.writeUInt16LE(tag, at);
    tiff.writeUInt16LE(type, at + 2);
    tiff.writeUInt32LE(count, at + 4);
    tiff.writeUInt32LE(value, at + 8);
  };
  tiff.writeUInt16LE(3, 8);
  entry(10, 0x010f, 2, maker.length + 1, 100);
  entry(22, 0x0112, 3, 1, 6);
  entry(34, 0x8825, 4, 1, 60);
  tiff.write(maker, 100);
  tiff.writeUInt16LE(2, 60);
  entry(62, 1, 2, 2, 'N'.charCodeAt(0));
  entry(74, 2, 5, 3, 140);
  place.forEach((part, i) => {
    tiff.writeUInt32LE(part, 140 + 8 * i);
    tiff.writeUInt32LE(1, 144 + 8 * i);
  });
  const body = Buffer.concat([Buffer.from('Exif\0\0'), tiff]);
  return Buffer.concat([Buffer.from([0xff, 0xe1, (body.length + 2) >> 8, (body.length + 2) & 0xff]), body]);
}

// A JPEG with that segment, 400 by 300, drawn by the browser.
async function photo(phone) {
  const numbers = await phone.page.evaluate(async () => {
    const canvas = new OffscreenCanvas(400, 300), pen = canvas.getContext('2d');
    pen.fillStyle = '#a04020';
    pen.fillRect(0, 0, 400, 300);
    pen.fillStyle = '#2040a0';
    pen.fillRect(0, 0, 100, 300);
    const blob = await canvas.convertToBlob({type: 'image/jpeg', quality: 0.9});
    return [...new Uint8Array(await blob.arrayBuffer())];
  });
  const bytes = Buffer.from(numbers);
  const file = path.join(temporaryFolder(), 'door.jpg');
  fs.writeFileSync(file, Buffer.concat([bytes.subarray(0, 2), exif(), bytes.subarray(2)]));
  return file;
}

function tellsNothing(name, bytes) {
  const seconds = Buffer.alloc(4);
  seconds.writeUInt32LE(place[2]);
  assert.equal(bytes.includes(maker), false, `${name} names the camera`);
  assert.equal(bytes.includes(seconds), false, `${name} tells the place`);
}

test('a photo from the chooser loses where it was taken, and its picture is in every copy', () => withPhone({example: true},
  async phone => {
    const file = await photo(phone);
    assert.ok(fs.readFileSync(file).includes(maker));
    await phone.findAndTap('room.r-foyer');
    await phone.findAndTap('room.photos');
    await phone.choose('photos.add', [file]);
    await phone.waits(async () => (await phone.marks()).some(mark => mark.name.startsWith('photo.')), 'the photo');
    const sealed = await sealedCopy(phone);
    tellsNothing('the sealed copy', sealed);
    const job = exported(sealed);
    assert.equal(job.photos.length, 1);
    for (const key of ['handover.json', 'handover.owner', 'handover.technician'])
      for (const [name, bytes] of Object.entries(await handedOver(phone, key))) {
        tellsNothing(name, bytes);
        for (const [, data] of bytes.toString('latin1').matchAll(/data:image\/jpeg;base64,([A-Za-z0-9+/=]+)/g))
          tellsNothing(`a picture in ${name}`, Buffer.from(data, 'base64'));
      }
    const folder = temporaryFolder(), copy = path.join(folder, 'job.tapjob');
    fs.writeFileSync(copy, sealed);
    tapwright('export', copy, path.join(folder, 'job.json'));
    const [name] = fs.readdirSync(path.join(folder, 'photos'));
    const bytes = fs.readFileSync(path.join(folder, 'photos', name));
    tellsNothing(name, bytes);
    assert.match(execFileSync('file', [path.join(folder, 'photos', name)], {encoding: 'utf8'}), /JPEG/);
  }));

test('a photo that is dropped on the page of photos is taken in, and nowhere else', () => withPhone({example: true}, async phone => {
  const file = await photo(phone);
  await phone.drop([file]);
  await phone.waits(async () => (await phone.marks()).some(mark => /^Open the Photos page/.test(mark.text)), 'where to drop it');
  await phone.tap('message.0.dismiss');
  await phone.findAndTap('room.r-foyer');
  await phone.findAndTap('room.photos');
  await phone.drop([file]);
  await phone.waits(async () => (await phone.marks()).some(mark => mark.name.startsWith('photo.')), 'the photo');
  const [taken] = exported(await sealedCopy(phone)).photos;
  assert.equal(taken.about, 'r-foyer');
}));
