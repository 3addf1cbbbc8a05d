// The app without seeing it: what Chromium's accessibility tree says of each place, the first story through it alone, and
// what axe-core finds wrong.
import assert from 'node:assert/strict';
import * as fs from 'node:fs';
import test from 'node:test';

import {exported, sealedCopy, tickAllSteps, withPhone} from './desk.mjs';
import {Listener} from './listener.mjs';
import {landscape, portrait, tablet} from './phone.mjs';

const places = ['Survey', 'Rooms', 'Lines', 'Readings', 'Snags', 'Handover'];

async function axeFaults(phone) {
  const axe = fs.readFileSync(process.env.TAPWRIGHT_AXE, 'utf8');
  await phone.page.evaluate(() => window.tapwright.read());
  // Through the driver, not as a script of the page, whose policy would refuse it.
  const session = await phone.context.newCDPSession(phone.page);
  await session.send('Runtime.evaluate', {expression: axe + '; 0'});
  const {result} = await session.send('Runtime.evaluate', {awaitPromise: true, returnByValue: true, expression:
    `axe.run(document, {resultTypes: ['violations']}).then(found => found.violations.map(each =>
      each.id + ': ' + each.help + ' ' + each.nodes.map(node => node.html).join(' | ')))`});
  await session.detach();
  return result.value;
}

/** The names of what can be acted on, which must tell each from the other. */
function namesOf(tree) {
  const acting = new Set(['button', 'textbox', 'checkbox', 'switch', 'radio']);
  return tree.filter(node => acting.has(node.role) && !node.disabled);
}

for (const [name, size] of Object.entries({portrait, landscape, tablet}))
  test(`${name}: each place says what it is, and what is on it`, () => withPhone({example: true, size}, async phone => {
    const listener = await Listener.of(phone);
    for (const place of places) {
      await listener.press('button', place);
      const tree = await listener.tree();
      const headings = tree.filter(node => node.role === 'heading' && node.level === 1);
      assert.deepEqual(headings.map(node => node.name), [(await phone.mark('header.title')).text]);
      assert.ok(tree.some(node => node.role === 'navigation') && tree.some(node => node.role === 'main'));
      for (const node of namesOf(tree)) assert.ok(node.name, `${place}: a ${node.role} without a name`);
      const current = await phone.page.$$eval('nav [aria-current=page]', all => all.map(each => each.textContent));
      assert.deepEqual(current, [place]);
      assert.deepEqual(await axeFaults(phone), [], place);
    }
  }));

test('rows, figures and verdicts are in the tree as they are on the screen', () => withPhone({example: true}, async phone => {
  const listener = await Listener.of(phone);
  await listener.press('button', 'Rooms');
  const rows = (await phone.marks()).filter(mark => mark.role === 'row');
  const tree = await listener.tree();
  assert.ok(rows.length > 10);
  for (const row of rows)
    assert.ok(tree.some(node => node.role === 'button' && node.name === (row.label || row.text)), row.text);
  assert.ok(tree.some(node => node.role === 'list'));
  await listener.press('button', 'Readings');
  const words = (await phone.marks()).filter(mark => mark.role === 'text' || mark.role === 'status');
  const heard = (await listener.tree()).map(node => node.name);
  for (const mark of words) assert.ok(heard.some(each => each.includes(mark.label || mark.text)), mark.text);
}));

test('dialogs, fields, choices and switches: names, values, states, and nothing that axe-core finds', () =>
  withPhone({example: true}, async phone => {
    const listener = await Listener.of(phone);
    await listener.press('button', 'Rooms');
    await listener.press('button', /^Café/);
    assert.deepEqual(await axeFaults(phone), []);
    await listener.press('button', /^C-126/);
    assert.deepEqual(await axeFaults(phone), []);
    const tree = await listener.tree();
    const taps = tree.filter(node => node.role === 'radio' && /W/.test(node.name));
    assert.equal(taps.filter(node => node.checked === 'true').length, 1);
    await phone.tap('place.readings');
    await listener.press('button', /^One reading at/);
    assert.ok(await listener.hears('dialog', /./));
    assert.deepEqual(await axeFaults(phone), []);
    // What is behind the dialog is out of reach.
    assert.ok(!namesOf(await listener.tree()).some(node => node.name === 'Rooms'));
    await tickAllSteps(phone);
    await listener.press('button', '6');
    await listener.press('button', '1');
    assert.ok(await listener.hears('StaticText', '61 Ω'));
    assert.deepEqual(await axeFaults(phone), []);
  }));

test('a finger that explores finds each thing where it is drawn, and a touch there is one touch of the program', () =>
  withPhone({example: true}, async phone => {
    await phone.tap('place.rooms');
    await phone.page.evaluate(() => window.tapwright.read());
    const found = (x, y) => phone.page.evaluate(([across, down]) => document.elementFromPoint(across, down).textContent, [x, y]);
    const inSight = (await phone.marks()).filter(mark => mark.visible && mark.touchable);
    assert.ok(inSight.length > 10);
    for (const mark of inSight) assert.equal(await found(...await phone.middle(mark)), mark.label || mark.text);
    await phone.tap('rooms.new');
    assert.ok(await phone.sees('rooms.name'));
    await phone.tap('rooms.new.close');
    assert.ok(!await phone.has('rooms.name'));
    assert.equal(await phone.page.evaluate(() => document.querySelector('#reader').contains(document.activeElement)), false);
  }));

test('elements keep their identity while the program changes', () => withPhone({example: true}, async phone => {
  const listener = await Listener.of(phone);
  await listener.press('button', 'Rooms');
  await listener.press('button', /^Café/);
  await phone.page.$$eval('#reader *', all => all.forEach(each => { each.before = true; }));
  await listener.press('button', /^Find/);
  await listener.press('button', /^Back/);
  const kept = await phone.page.$$eval('#reader nav button, #reader header h1', all => all.map(each => each.before === true));
  assert.ok(kept.length >= 6);
  assert.ok(kept.slice(1).every(Boolean));
}));

test('the focus goes both ways', () => withPhone({example: true}, async phone => {
  const listener = await Listener.of(phone);
  await listener.press('button', 'Rooms');
  const rows = (await phone.marks()).filter(mark => mark.role === 'row');
  const last = rows.at(-1);
  assert.equal(last.visible, false);
  await listener.focus('button', last.label || last.text);
  const mark = await phone.mark(last.name);
  assert.ok(mark.focused && mark.visible, 'it came into sight with the focus on it');
  await phone.press('Escape');
  await listener.press('button', last.label || last.text);
  await phone.page.evaluate(() => window.tapwright.read());
  // A page that has just come is read from its title on; from there Tab goes to its first key, in both.
  const active = () => phone.page.evaluate(() => document.activeElement.textContent);
  assert.equal(await active(), (await phone.mark('header.title')).text);
  await phone.press('Tab');
  await phone.page.evaluate(() => window.tapwright.read());
  const focused = (await phone.marks()).find(each => each.focused);
  assert.ok(focused);
  assert.equal(await active(), focused.label || focused.text);
}));

test('what hangs on a plan, and where one signs, have names', () => withPhone({example: true}, async phone => {
  const listener = await Listener.of(phone);
  await listener.press('button', 'Rooms');
  await listener.press('button', /^Foyer, \d+ loudspeakers/);
  await listener.press('button', /^Plan/);
  const plan = await listener.waits('image', / a line each /);
  assert.ok(plan.name);
  await listener.focus('image', plan.name);
  await listener.press('radio', 'C-101');
  assert.equal((await listener.waits('radio', 'C-101')).checked, 'true');
  assert.ok(await listener.hears('button', 'Open C-101'));
  assert.deepEqual(await axeFaults(phone), [], 'plan');
  await listener.press('button', 'Handover');
  await listener.press('button', /^Sign off/);
  await listener.focus('image', 'Sign here');
  assert.deepEqual(await axeFaults(phone), [], 'sign-off');
}));

test('a job of three rooms goes from nothing to the owner\'s sheet by names alone', () => withPhone({}, async phone => {
  const listener = await Listener.of(phone);
  await listener.press('button', /^Create job/);
  await listener.press('button', 'Lines');
  await listener.press('button', /^Add amplifier|^Add an amplifier|^Add/);
  await listener.press('button', 'Rooms');
  for (let room = 0; room < 3; ++room) {
    await listener.press('button', /^Add a room|^New room|^Add room/);
    await listener.write(/^Name/, ['Foyer', 'Küche', 'Säle 1 & 2'][room]);
    await listener.press('button', /^Add/);
    await listener.press('button', /^Add to Zone/);
    await listener.press('radio', /^5 W/);
    await listener.press('button', /^Same again/);
    await listener.press('button', /^Add/);
    await listener.press('button', 'Rooms');
  }
  await listener.press('button', 'Readings');
  await listener.press('button', /^One reading at/);
  await listener.press('button', /^No: /);
  for (const step of (await listener.tree()).filter(node => node.role === 'checkbox')) await listener.press('checkbox', step.name);
  await listener.press('button', /^All done/);
  for (const key of ['1', '6', '6']) await listener.press('button', key);
  assert.ok(await listener.hears('StaticText', '166 Ω'));
  await listener.press('button', 'Save');
  await listener.press('button', 'Handover');
  await listener.press('button', 'Owner\'s sheet');
  const coming = phone.page.waitForEvent('download');
  await listener.press('button', /\.html/);
  assert.match((await coming).suggestedFilename(), /\.html$/);
  await listener.press('button', 'Close');

  const job = exported(await sealedCopy(phone));
  assert.deepEqual(job.rooms.map(room => room.name), ['Foyer', 'Küche', 'Säle 1 & 2']);
  assert.deepEqual(job.points.map(point => point.tap_w), [5, 5, 5, 5, 5, 5]);
  assert.equal(job.readings[0].value, 166);
}));
