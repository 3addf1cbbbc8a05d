// Somebody with a phone: Chromium without a window, with emulated touch, on the app as a host serves it. Touches go to
// marks (window.tapwright.marks), and after each the program is waited for, never the clock.
import assert from 'node:assert/strict';
import * as fs from 'node:fs';
import {createRequire} from 'node:module';
import * as os from 'node:os';
import * as path from 'node:path';

const needed = name => {
  const value = process.env[name];
  assert.ok(value, `${name} is not set: run these tests by CTest, or see tests/web/CMakeLists.txt for what it should be.`);
  return value;
};
const {chromium} = createRequire(needed('TAPWRIGHT_PLAYWRIGHT'))('playwright-core');
export const appFolder = needed('TAPWRIGHT_WEB_APP');
export const program = needed('TAPWRIGHT_PROGRAM');
export const sourceFolder = needed('TAPWRIGHT_SOURCE_DIR');

export const portrait = {width: 390, height: 844};
export const landscape = {width: 844, height: 390};
export const tablet = {width: 820, height: 1180};

// Software drawing, and nothing asked of the network that a page did not ask.
const switches = ['--no-sandbox', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader'];
const patienceMs = 20000;

const temporary = [];
process.on('exit', () => temporary.forEach(folder => fs.rmSync(folder, {recursive: true, force: true})));

/** A folder that is gone when the process ends. */
export function temporaryFolder() {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'tapwright-web-'));
  temporary.push(folder);
  return folder;
}

export class Phone {
  /** What the page did that it never should: asked another origin, broke the security policy, threw. */
  faults = [];

  /** `folder` is the browser's profile: what is in it outlasts the browser. */
  static async start({folder = temporaryFolder(), size = portrait, dpr = 1, night = false} = {}) {
    const phone = new Phone();
    phone.folder = folder;
    phone.dpr = dpr;
    phone.context = await chromium.launchPersistentContext(folder, {
      executablePath: process.env.TAPWRIGHT_CHROMIUM || '/usr/bin/chromium', headless: true, args: switches, viewport: size,
      deviceScaleFactor: dpr, hasTouch: true, isMobile: true, colorScheme: night ? 'dark' : 'light', locale: 'en-GB',
      timezoneId: 'UTC', acceptDownloads: true});
    phone.context.setDefaultTimeout(patienceMs);
    await phone.context.addInitScript(() => {
      document.addEventListener('securitypolicyviolation', event =>
        console.error(`security policy: ${event.violatedDirective} ${event.blockedURI}`));
    });
    phone.watch(phone.context.pages()[0] || await phone.context.newPage());
    return phone;
  }

  /** Makes this the page in hand. */
  watch(page) {
    this.page = page;
    page.on('pageerror', error => this.faults.push(`error: ${error.message}`));
    page.on('console', message => {
      if (message.type() === 'error') this.faults.push(`console: ${message.text()} (${message.location().url})`);
    });
    page.on('request', request => {
      const url = new URL(request.url());
      if (this.origin && url.protocol.startsWith('http') && url.origin !== this.origin)
        this.faults.push(`request: ${request.url()}`);
    });
  }

  /** Loads the app, with the example job where `example` is set. Resolves once it has drawn. */
  async open(address, {example = false} = {}) {
    this.origin = new URL(address).origin;
    await this.page.goto(address + (example ? '?example' : ''));
    await this.started();
    if (example) await this.waitsFor('place.rooms');
  }

  async started() {
    await this.page.waitForFunction(() => window.tapwright?.started, null, {timeout: patienceMs});
    await this.page.evaluate(() => window.tapwright.started.then(() => true));
    await this.settle();
  }

  async close() { await this.context.close(); }

  /** Resolves when the app is kept on the device, so that it starts without a network. */
  async keptOnDevice() {
    await this.page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  }

  // ---- looks ----

  async marks() { return this.page.evaluate(() => window.tapwright.marks()); }

  /** The last mark of that name, which lies on top; undefined where there is none. */
  async mark(name) { return (await this.marks()).findLast(mark => mark.name === name); }

  async has(name) { return await this.mark(name) !== undefined; }
  async sees(name) { return (await this.mark(name))?.visible === true; }
  async text(name) { return (await this.mark(name))?.text ?? ''; }

  /** Resolves once `look` answers something true; fails with what was wanted and what is there. */
  async waits(look, wanted) {
    const begun = Date.now();
    for (;;) {
      const seen = await look();
      if (seen) return seen;
      if (Date.now() - begun > patienceMs) {
        const there = (await this.marks()).filter(mark => mark.visible).map(mark => `${mark.name}=${mark.text}`);
        assert.fail(`${wanted} did not come. In sight: ${there.join(' | ')}. Faults: ${this.faults.join(' | ')}`);
      }
      await new Promise(resolve => setTimeout(resolve, 25));
    }
  }
  async waitsFor(name) { return this.waits(() => this.sees(name), name); }
  async waitsForText(name, part) { return this.waits(async () => (await this.text(name)).includes(part), `"${part}" on ${name}`); }

  // ---- acts ----

  /** Resolves when nothing is left to draw or to write. */
  async settle() {
    await this.page.evaluate(() => new Promise(resolve => requestAnimationFrame(() => setTimeout(resolve, 0))));
    await this.page.evaluate(() => window.tapwright.settled());
  }

  /** The middle of a mark, where the page has it: the canvas may stand below something else. */
  async middle(mark) {
    const [x, y, width, height] = mark.rect;
    const [left, top] = await this.page.evaluate(() => {
      const box = document.getElementById('canvas').getBoundingClientRect();
      return [box.left, box.top];
    });
    return [left + (x + width / 2) / this.dpr, top + (y + height / 2) / this.dpr];
  }

  async tapAt(x, y) {
    await this.page.touchscreen.tap(x, y);
    await this.settle();
  }

  async tap(name) {
    await this.waitsFor(name);
    const mark = await this.mark(name);
    assert.ok(mark.enabled, `${name} cannot be touched`);
    await this.tapAt(...await this.middle(mark));
  }

  async tapAll(...names) { for (const name of names) await this.tap(name); }

  /** Scrolls the page with the thumb until the mark is in sight, then touches it. */
  async findAndTap(name) {
    await this.find(name);
    await this.tap(name);
  }

  async find(name) {
    await this.waits(() => this.has(name), name);
    for (let tries = 0; tries < 40 && !await this.sees(name); ++tries) {
      const [, y] = await this.middle(await this.mark(name));
      await this.scroll(y > this.page.viewportSize().height / 2 ? -1 : 1);
    }
    assert.ok(await this.sees(name), `${name} did not come into sight`);
  }

  /** A drag of a third of the screen that does not fling: 1 is down, -1 up. */
  async scroll(direction) {
    const {width, height} = this.page.viewportSize();
    const from = height * (direction < 0 ? 0.6 : 0.4), way = direction * height * 0.2;
    await this.drag(width * 0.6, from, width * 0.6, from + way);
  }

  async drag(x0, y0, x1, y1, steps = 8) {
    this.cdp ??= await this.context.newCDPSession(this.page);
    const touch = (type, points) => this.cdp.send('Input.dispatchTouchEvent', {type, touchPoints: points});
    const pause = ms => new Promise(resolve => setTimeout(resolve, ms));
    await touch('touchStart', [{x: x0, y: y0}]);
    for (let step = 1; step <= steps; ++step) {
      await pause(10);
      await touch('touchMove', [{x: x0 + (x1 - x0) * step / steps, y: y0 + (y1 - y0) * step / steps}]);
    }
    await pause(120);  // a thumb that rests before it lifts does not fling
    await touch('touchEnd', []);
    await this.settle();
  }

  async type(text) {
    await this.page.keyboard.type(text);
    await this.settle();
  }

  async press(key) {
    await this.page.keyboard.press(key);
    await this.settle();
  }

  /** The phone is turned. */
  async turn(size) {
    await this.page.setViewportSize(size);
    await this.settle();
  }

  /** The file that a touch on `name` hands out: its name and its bytes. */
  async download(name) {
    await this.find(name);
    const coming = this.page.waitForEvent('download');
    await this.tap(name);
    const download = await coming;
    return {name: download.suggestedFilename(), bytes: fs.readFileSync(await download.path())};
  }

  /** Touches `name`, and chooses these files where the browser's chooser comes up. */
  async choose(name, files) {
    const coming = this.page.waitForEvent('filechooser');
    await this.tap(name);
    await (await coming).setFiles(files);
    await this.settle();
  }

  /** Drops these files on the page. */
  async drop(files) {
    const list = files.map(file => ({name: path.basename(file), bytes: [...fs.readFileSync(file)]}));
    await this.page.evaluate(list => {
      const dataTransfer = new DataTransfer();
      for (const {name, bytes} of list) dataTransfer.items.add(new File([new Uint8Array(bytes)], name));
      for (const kind of ['dragenter', 'dragover', 'drop'])
        document.getElementById('stage').dispatchEvent(new DragEvent(kind, {dataTransfer, bubbles: true, cancelable: true}));
    }, list);
    await this.settle();
  }

  assertNoFaults() { assert.deepEqual(this.faults, []); }
}

/** The processes of the browser with that profile, its children included. */
export function processesOf(folder) {
  const ids = fs.readdirSync('/proc').filter(name => /^\d+$/.test(name));
  const read = (id, file) => {
    try {
      return fs.readFileSync(`/proc/${id}/${file}`, 'utf8');
    } catch {
      return '';  // it ended meanwhile
    }
  };
  const all = new Set(ids.filter(id => read(id, 'cmdline').includes(folder)));
  for (let before = 0; before !== all.size;) {
    before = all.size;
    for (const id of ids) if (all.has(read(id, 'stat').replace(/^.*\) /s, '').split(' ')[1])) all.add(id);
  }
  all.delete(String(process.pid));
  return [...all].map(Number);
}

/** Ends the browser with that profile at once, as a phone does whose battery fails. */
export async function kill(phone) {
  const gone = new Promise(resolve => phone.context.on('close', resolve));
  for (const id of processesOf(phone.folder)) {
    try {
      process.kill(id, 'SIGKILL');
    } catch {}
  }
  await gone;
}
