// Somebody who hears the app instead of seeing it: reads Chromium's accessibility tree, and does to its nodes what a
// screen reader does. Knows no marks and no places on the screen.
import assert from 'node:assert/strict';

const patienceMs = 20000;
const pause = ms => new Promise(resolve => setTimeout(resolve, ms));
const matches = (name, wanted) => (wanted instanceof RegExp ? wanted.test(name) : name === wanted);

export class Listener {
  static async of(phone) {
    const listener = new Listener();
    listener.phone = phone;
    listener.cdp = await phone.context.newCDPSession(phone.page);
    await listener.cdp.send('Accessibility.enable');
    return listener;
  }

  /** What is heard: [{role, name, value, level, disabled, checked, expanded, current, invalid, focused, element}]. */
  async tree() {
    const {nodes} = await this.cdp.send('Accessibility.getFullAXTree');
    return nodes.filter(node => !node.ignored).map(node => {
      const properties = Object.fromEntries((node.properties || []).map(each => [each.name, each.value.value]));
      return {role: node.role?.value, name: node.name?.value || '', value: node.value?.value,
        element: node.backendDOMNodeId, ...properties};
    });
  }

  /** The first node of that role and name, once there is one that can be acted on. */
  async waits(role, name) {
    const begun = Date.now();
    for (;;) {
      const all = await this.tree();
      const found = all.find(node => node.role === role && matches(node.name, name) && !node.disabled);
      if (found) return found;
      if (Date.now() - begun > patienceMs) {
        const there = all.filter(node => node.name).map(node => `${node.role} "${node.name}"`);
        assert.fail(`There is no ${role} called ${name}. There are: ${[...new Set(there)].join(', ')}.`);
      }
      await pause(50);
    }
  }

  /** Whether such a node is there now. */
  async hears(role, name) {
    return (await this.tree()).some(node => node.role === role && matches(node.name, name));
  }

  // Calls a function of the page on the node's element.
  async #on(node, source) {
    const {object} = await this.cdp.send('DOM.resolveNode', {backendNodeId: node.element});
    await this.cdp.send('Runtime.callFunctionOn', {objectId: object.objectId, functionDeclaration: source});
  }

  /** A screen reader's double tap: the node's own action. */
  async press(role, name) {
    const node = await this.waits(role, name);
    await this.#on(node, 'function() { this.click(); }');
    await this.#rests();
    return node;
  }

  /** The focus goes there, as by Tab or by swiping. */
  async focus(role, name) {
    const node = await this.waits(role, name);
    await this.#on(node, 'function() { this.focus(); }');
    await this.#rests();
  }

  /** Types with real keys in place of what stands in the field. */
  async write(name, text) {
    await this.focus('textbox', name);
    await this.phone.page.keyboard.press('Control+A');
    await this.phone.page.keyboard.type(text);
    await this.#rests();
  }

  // The program has done what it was asked, and it has been read again.
  async #rests() {
    await this.phone.settle();
    await this.phone.page.evaluate(() => window.tapwright.read());
  }
}
