// The first story in Firefox, under Xvfb:  node firefox.mjs      (the target `firefox`; no part of a test run)
//
// Marionette, Firefox's own remote control, speaks packets of JSON behind their length over a socket: no driver program
// is needed. The display must be set (xvfb-run).
import assert from 'node:assert/strict';
import {spawn} from 'node:child_process';
import * as fs from 'node:fs';
import * as net from 'node:net';
import * as path from 'node:path';

import {serve} from '../../platform/web/pack/serve.mjs';
import {appFolder, temporaryFolder} from './phone.mjs';

const patienceMs = 60000;
const pause = ms => new Promise(resolve => setTimeout(resolve, ms));

class Marionette {
  #socket;
  #rest = Buffer.alloc(0);
  #waiting = new Map();
  #number = 0;

  static async connect(port) {
    for (let tries = 0; ; ++tries) {
      try {
        const made = new Marionette();
        made.#socket = await new Promise((done, failed) => {
          const socket = net.connect(port, '127.0.0.1', () => done(socket)).on('error', failed);
        });
        made.#socket.on('data', bytes => made.#take(bytes));
        return made;
      } catch (error) {
        if (tries === 120) throw error;
        await pause(250);
      }
    }
  }

  #take(bytes) {
    this.#rest = Buffer.concat([this.#rest, bytes]);
    for (;;) {
      const colon = this.#rest.indexOf(':');
      const size = Number(this.#rest.subarray(0, Math.max(colon, 0)).toString());
      if (colon < 0 || this.#rest.length < colon + 1 + size) return;
      const packet = JSON.parse(this.#rest.subarray(colon + 1, colon + 1 + size).toString());
      this.#rest = this.#rest.subarray(colon + 1 + size);
      if (!Array.isArray(packet)) continue;  // the greeting
      const [, number, error, value] = packet;
      const {done, failed} = this.#waiting.get(number);
      this.#waiting.delete(number);
      if (error) failed(new Error(`${error.error}: ${error.message}`));
      else done(value);
    }
  }

  ask(command, given = {}) {
    const text = JSON.stringify([0, ++this.#number, command, given]);
    const answer = new Promise((done, failed) => this.#waiting.set(this.#number, {done, failed}));
    this.#socket.write(`${Buffer.byteLength(text)}:${text}`);
    return answer;
  }

  /** The value of a script's body, which may use `await`. */
  async run(script) {
    const wrapped = `const done = arguments[arguments.length - 1]; (async () => { ${script} })().then(
      value => done({value}), error => done({error: String(error)}));`;
    const {value} = await this.ask('WebDriver:ExecuteAsyncScript', {script: wrapped, args: [], scriptTimeout: patienceMs});
    assert.equal(value.error, undefined);
    return value.value;
  }

  close() { this.#socket.end(); }
}

const marks = fox => fox.run('return await window.tapwright.marks();');
const settle = fox => fox.run('await new Promise(done => requestAnimationFrame(() => setTimeout(done, 0))); await window.tapwright.settled();');
const mark = async (fox, name) => (await marks(fox)).findLast(each => each.name === name);

async function act(fox, kind, actions) {
  await fox.ask('WebDriver:PerformActions', {actions: [{id: kind, ...(kind === 'finger'
    ? {type: 'pointer', parameters: {pointerType: 'touch'}} : {type: 'wheel'}), actions}]});
  await settle(fox);
}

async function tap(fox, name) {
  for (let tries = 0; tries < 60; ++tries) {
    const found = await mark(fox, name);
    if (found?.visible) {
      const [x, y, width, height] = found.rect.map(Math.round);
      return act(fox, 'finger', [
        {type: 'pointerMove', duration: 0, x: Math.round(x + width / 2), y: Math.round(y + height / 2)},
        {type: 'pointerDown', button: 0}, {type: 'pause', duration: 60}, {type: 'pointerUp', button: 0}]);
    }
    const size = await fox.run('return [innerWidth, innerHeight];');
    if (found) await act(fox, 'wheel', [{type: 'scroll', x: Math.round(size[0] * 0.6), y: Math.round(size[1] / 2), deltaX: 0,
      deltaY: found.rect[1] > size[1] / 2 ? 200 : -200, duration: 0}]);
    else await pause(100);
  }
  assert.fail(`${name} did not come into sight; in sight: ${(await marks(fox)).filter(each => each.visible).map(each => each.name)}`);
}

async function story(fox) {
  await tap(fox, 'opening.new');
  for (const name of ['place.lines', 'lines.add', 'place.rooms']) await tap(fox, name);
  for (let room = 0; room < 3; ++room) {
    for (const name of ['rooms.new', 'rooms.add', 'room.add']) await tap(fox, name);
    const key = (await marks(fox)).find(each => each.name.startsWith('room.new.tap.') && each.text.startsWith('5 W'));
    for (const name of [key.name, 'room.same', 'room.many.add', 'place.rooms']) await tap(fox, name);
  }
  for (const name of ['place.readings', 'readings.add', 'emergency.no']) await tap(fox, name);
  for (let step = 0; ; ++step) {
    const names = (await marks(fox)).map(each => each.name);
    const name = [`caution.${step}.noted`, `caution.${step}`].find(each => names.includes(each));
    if (!name) break;
    await tap(fox, name);
  }
  for (const name of ['caution.done', 'pad.1', 'pad.6', 'pad.6', 'pad.keep', 'place.handover', 'handover.owner']) await tap(fox, name);
  for (let tries = 0; tries < 100 && !(await mark(fox, 'handover.made')); ++tries) await pause(100);
  assert.ok(await mark(fox, 'handover.made'), 'the sheet was not made');
}

const profile = temporaryFolder(), port = 2828 + process.pid % 1000;
fs.writeFileSync(path.join(profile, 'user.js'), [['marionette.port', port], ['webgl.force-enabled', true],
  ['gfx.webrender.software', true], ['widget.dmabuf.enabled', false], ['app.update.auto', false],
  ['datareporting.policy.dataSubmissionEnabled', false], ['browser.shell.checkDefaultBrowser', false]]
  .map(([name, value]) => `user_pref(${JSON.stringify(name)}, ${JSON.stringify(value)});\n`).join(''));
const {server, address} = await serve(appFolder, 0);
const firefox = spawn('firefox-esr', ['--marionette', '--no-remote', '--profile', profile], {stdio: 'ignore'});
try {
  const fox = await Marionette.connect(port);
  const session = await fox.ask('WebDriver:NewSession', {capabilities: {alwaysMatch: {}}});
  await fox.ask('WebDriver:SetTimeouts', {script: patienceMs, pageLoad: patienceMs});
  await fox.ask('WebDriver:SetWindowRect', {width: 420, height: 900});
  const start = async () => {
    await fox.ask('WebDriver:Navigate', {url: address});
    await fox.run('while (!window.tapwright) await new Promise(done => setTimeout(done, 50)); await window.tapwright.started;');
    await settle(fox);
  };
  await start();
  await story(fox);
  await start();
  await tap(fox, 'place.rooms');  // the job that was open last is open
  const rooms = (await marks(fox)).filter(each => /^room\.(?!new|add)/.test(each.name) && /^Room \d/.test(each.text));
  assert.equal(rooms.length, 3, 'the job is there after a new start');
  const {browserName, browserVersion} = session.capabilities;
  console.log(`${browserName} ${browserVersion}: the story of three rooms went through, and the job was there after a new start.`);
  fox.close();
} finally {
  firefox.kill();
  server.closeAllConnections();
  server.close();
}
