// Start and frame times in Chromium:  the target `web-app-bench`. Prints a table for docs/benchmarks.md; judges nothing.
import * as fs from 'node:fs';
import * as path from 'node:path';

import {example, served, tapwright} from './desk.mjs';
import {Phone, temporaryFolder} from './phone.mjs';

const times = 5, many = 2000;
const restMs = 1500;  // after a first visit the browser still compiles and keeps for a while
const pause = ms => new Promise(resolve => setTimeout(resolve, ms));
const sorted = values => [...values].sort((a, b) => a - b);
const told = values => {
  const all = sorted(values);
  return `${all[0].toFixed(1)} / ${all[Math.floor(all.length / 2)].toFixed(1)} / ${all.at(-1).toFixed(1)} ms`;
};
const print = (what, values) => console.log(`| ${what} | ${told(values)} |`);

const firstFrame = phone => phone.page.evaluate(() => performance.getEntriesByName('tapwright:first-frame')[0].startTime);
const figures = phone => phone.page.evaluate(() => window.tapwright.figures());
const saves = phone => phone.page.evaluate(() => performance.getEntriesByName('tapwright:saved').map(entry => entry.duration));

async function starts(address) {
  const first = [], again = [];
  for (let time = 0; time < times; ++time) {
    const phone = await Phone.start();
    await phone.open(address, {example: true});
    first.push(await firstFrame(phone));
    await phone.keptOnDevice();
    await pause(restMs);
    await phone.page.goto(address);
    await phone.started();
    again.push(await firstFrame(phone));
    await phone.close();
  }
  print('first frame, first visit, with the example job', first);
  print('first frame, from the device', again);
}

// Touches each place in turn. Returns: the milliseconds of the last frame after each touch.
async function frames(phone) {
  const all = [];
  for (let round = 0; round < times; ++round)
    for (const place of ['survey', 'rooms', 'lines', 'readings', 'snags', 'handover']) {
      await phone.tap(`place.${place}`);
      const {ui_ms, paint_ms} = await figures(phone);
      all.push(ui_ms + paint_ms);
    }
  return all;
}

// The example with so many loudspeakers more, spread over its rooms and zones.
function large() {
  const job = JSON.parse(fs.readFileSync(example, 'utf8'));
  const fitted = job.points.filter(point => point.kind === undefined || point.kind === 'speaker');
  for (let number = 0; fitted.length + number < many; ++number) {
    const model = fitted[number % fitted.length];
    job.points.push({...model, id: `s-more-${number}`, label: `M-${number}`});
  }
  const folder = temporaryFolder(), file = path.join(folder, 'large.json');
  fs.writeFileSync(file, JSON.stringify(job));
  tapwright('import', file, path.join(folder, 'large.tapjob'));
  return path.join(folder, 'large.tapjob');
}

await served(async address => {
  console.log('| what | least / middle / most |\n|---|---|');
  await starts(address);
  const phone = await Phone.start();
  await phone.open(address, {example: true});
  print('a frame, example job', await frames(phone));
  const before = (await figures(phone)).frames;
  await pause(5000);
  console.log(`| frames in 5 s at rest | ${(await figures(phone)).frames - before} |`);
  await phone.tap('place.rooms');
  await phone.findAndTap('room.r-foyer');
  await phone.findAndTap('point.s-101');
  for (let time = 0; time < 4 * times; ++time) await phone.findAndTap(`point.tap.${1 + time % 2}`);
  print('a change saved', await saves(phone));
  await phone.close();
  const other = await Phone.start();
  await other.open(address);
  await other.find('opening.open');
  await other.choose('opening.open', [large()]);
  await other.waitsFor('place.rooms');
  print(`a frame, ${many} loudspeakers`, await frames(other));
  await other.close();
});
