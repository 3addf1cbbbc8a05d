// What tests in the browser share beside the phone: the app served, the program of this machine, files of jobs.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import * as fs from 'node:fs';
import * as path from 'node:path';

import {serve} from '../../platform/web/pack/serve.mjs';
import {appFolder, Phone, program, sourceFolder, temporaryFolder} from './phone.mjs';

export const example = path.join(sourceFolder, 'assets/demo.json');

/** The app at an address of its own for the length of `use`. */
export async function served(use, folder = appFolder, port = 0) {
  const {server, address} = await serve(folder, port);
  try {
    return await use(address, server);
  } finally {
    server.closeAllConnections();
    server.close();
  }
}

/** A phone on the app, for the length of `use`; what the page did wrong fails the test. */
export async function withPhone(options, use) {
  await served(async address => {
    const phone = await Phone.start(options);
    try {
      await phone.open(address, options);
      await use(phone, address);
      phone.assertNoFaults();
    } finally {
      await phone.close();
    }
  });
}

/** What the program of this machine prints; a failure of it fails the test. Findings (status 1) are none. */
export function tapwright(...words) {
  const home = temporaryFolder();
  try {
    return execFileSync(program, words, {encoding: 'utf8', maxBuffer: 1 << 28, env: {
      ...process.env, HOME: home, XDG_CONFIG_HOME: home, TZ: 'UTC', LC_ALL: 'C.UTF-8'}});
  } catch (error) {
    assert.equal(error.status, 1, `tapwright ${words.join(' ')}: ${error.stderr}`);
    return error.stdout;
  }
}

/** The whole job in these bytes of a job file, as `export` writes it. */
export function exported(bytes) {
  const folder = temporaryFolder();
  const job = path.join(folder, 'job.tapjob');
  fs.writeFileSync(job, bytes);
  tapwright('export', job, path.join(folder, 'out.json'));
  return JSON.parse(fs.readFileSync(path.join(folder, 'out.json'), 'utf8'));
}

/** The job that was open last is open, or is opened from the list. */
export async function openLastJob(phone) {
  await phone.waits(async () => await phone.has('rooms.new') || await phone.has('opening.recent.0'), 'a job');
  if (!await phone.has('rooms.new')) await phone.findAndTap('opening.recent.0');
  await phone.waitsFor('rooms.new');
}

/** The sealed copy of the open job, as the app hands it out. */
export async function sealedCopy(phone) {
  await phone.tap('place.handover');
  await phone.findAndTap('handover.sealed');
  await phone.waitsFor('handover.made');
  const file = await phone.download('made.save.0');
  await phone.tap('made.close');
  assert.match(file.name, /\.tapjob$/);
  return file.bytes;
}

/** Makes one of the files to hand over. Returns: all files made, by name. */
export async function handedOver(phone, key) {
  await phone.tap('place.handover');
  await phone.findAndTap(key);
  await phone.waitsFor('handover.made');
  const files = {};
  for (let number = 0; await phone.has(`made.save.${number}`); ++number) {
    const file = await phone.download(`made.save.${number}`);
    files[file.name] = file.bytes;
  }
  await phone.findAndTap('made.close');
  return files;
}

/** Makes several files to hand over, and saves them with one touch. Returns: all of them, by name. */
export async function savedAtOnce(phone, key) {
  await phone.tap('place.handover');
  await phone.findAndTap(key);
  await phone.waitsFor('made.save.all');
  const coming = [], wanted = (await phone.marks()).filter(mark => /^made\.save\.\d+$/.test(mark.name)).length;
  phone.page.on('download', download => coming.push(download));
  await phone.tap('made.save.all');
  await phone.waits(() => coming.length === wanted, `${wanted} files`);
  await phone.findAndTap('made.close');
  const files = {};
  for (const download of coming) files[download.suggestedFilename()] = fs.readFileSync(await download.path());
  return files;
}

/** Ticks every step before the first reading on a line. */
export async function tickAllSteps(phone) {
  for (let step = 0; ; ++step) {
    const name = `caution.${step}`;
    if (await phone.has(`${name}.noted`)) await phone.findAndTap(`${name}.noted`);
    else if (await phone.has(name)) await phone.findAndTap(name);
    else break;
  }
  await phone.findAndTap('caution.done');
}

/** The key of a row that begins with these watts. */
export async function tapKey(phone, row, watts) {
  const keys = (await phone.marks()).filter(mark => mark.name.startsWith(`${row}.`) && mark.text.startsWith(watts));
  assert.ok(keys.length > 0, `no tap of ${watts} in ${row}`);
  return keys[0].name;
}
