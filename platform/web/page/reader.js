// What is on the canvas, once more for a screen reader: real headings, buttons, fields and lists over it, unseen, made
// from the program's marks (ui/frame/mark.h) when it has come to rest.
//
// An element lives as long as its mark: a reading that changes nothing changes nothing here, so that nobody is thrown
// back. What is done to an element is done to the mark of its name, the way a tap or the keys would (ui/frame/hand.h).
'use strict';

import {partsOf} from './reader_parts.js';

const leastBetweenReadings = 250;  // milliseconds
const longestWait = 1500;          // for the program's focus to follow
const fillAfter = 60;              // a verdict that is new on the same page is announced only when it is filled in later

const isField = mark => mark.role === 'text field' || mark.role === 'number field';
const words = mark => mark.label || mark.text;

const tags = {
  'heading': mark => 'h' + mark.level,
  'text': () => 'p',
  'status': () => 'output',
  'alert': () => 'div',
  'image': () => 'div',
  'button': () => 'button',
  'row': () => 'button',
  'place': () => 'button',
  'text field': mark => (mark.long ? 'textarea' : 'input'),
  'number field': () => 'input',
  'switch': () => 'input',
  'checkbox': () => 'input',
  'radio': () => 'input',
};

function setAttribute(element, name, value) {
  if (value === null || value === false) {
    if (element.hasAttribute(name)) element.removeAttribute(name);
  } else if (element.getAttribute(name) !== String(value)) {
    element.setAttribute(name, value);
  }
}

function setText(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/** Puts `children` into `parent` in that order, and moves only what is out of it. */
function setChildren(parent, children) {
  for (const old of [...parent.children]) if (!children.includes(old)) old.remove();
  children.forEach((child, index) => {
    if (parent.children[index] !== child) parent.insertBefore(child, parent.children[index] || null);
  });
}

export class Reader {
  #root; #program; #scale;
  #nodes = new Map();      // key -> {element, mark, ...}
  #ids = 0;
  #timer = 0;
  #last = -Infinity;       // when it was read last
  #page = '';              // what page the last reading was of
  #inUse = false;          // the focus of the page is in here
  #appFocus = '';          // the mark that had the program's focus at the last reading
  #wanted = null;          // {name, since}: the focus the program was asked for
  #atTitle = null;         // the title a new page is read from, until a key is pressed
  #isMoving = false;       // the focus is being moved from here

  /**
   * `program`: {marks(): a promise of the marks, act(what, name, text), seen(marks): called with each reading}.
   * `scale()`: pixels of the program for each of the page.
   */
  constructor(root, program, scale) {
    this.#root = root;
    this.#program = program;
    this.#scale = scale;
    root.addEventListener('click', event => this.#clicked(event));
    root.addEventListener('mousedown', event => event.preventDefault());  // a pointer moves no focus: it is the program's
    addEventListener('keydown', () => { this.#atTitle = null; }, true);
    root.addEventListener('focusin', event => this.#focused(event));
    root.addEventListener('focusout', event => this.#left(event));
    root.addEventListener('input', event => this.#edited(event));
    root.addEventListener('compositionend', event => this.#edited(event));
    root.addEventListener('change', event => this.#committed(event));
    root.addEventListener('keydown', event => this.#key(event));
  }

  /** The program has come to rest: what it shows is read soon. */
  look() {
    if (this.#timer) return;
    const wait = Math.max(0, this.#last + leastBetweenReadings - performance.now());
    this.#timer = setTimeout(() => this.read(), wait);
  }

  /** Somebody touched the screen itself, and so sees it. */
  touched() { this.#inUse = false; }

  /** Whether the page's element under `event` deals with that key itself. */
  keepsKey(event) {
    if (!this.#root.contains(event.target)) return false;
    if (event.ctrlKey || event.metaKey || event.altKey) return this.#isTyping(event.target);
    if (event.key === 'Escape' || /^F\d+$/.test(event.key)) return false;
    if (this.#nodeOf(event.target)?.mark.by_place) return ['Tab', 'Shift'].includes(event.key);
    return event.key.length > 1 || event.key === ' ' || this.#isTyping(event.target);
  }

  /** The field of the program that is being typed into here, or null. */
  get typingIn() {
    const active = document.activeElement;
    return this.#root.contains(active) && this.#isTyping(active) ? this.#nodeOf(active).mark : null;
  }

  #isTyping(element) { return element.matches('textarea, input[type=text]'); }

  /** Reads at once. */
  async read() {
    this.#last = performance.now();
    const marks = await this.#program.marks();
    clearTimeout(this.#timer);
    this.#timer = 0;
    this.#last = performance.now();
    this.show(marks);
    this.#program.seen?.(marks);
  }

  /** Makes the elements those of these marks. */
  show(marks) {
    const parts = partsOf(marks);
    const first = parts.flatMap(part => part.marks).find(mark => mark.level === 1 && !mark.behind);
    const page = first ? words(first) : '';
    const isSamePage = page === this.#page;
    this.#page = page;
    const alive = new Set();
    const node = (key, tag) => this.#node(key, tag, alive);
    const made = parts.map(part => this.#part(part, node, isSamePage));
    const main = node('main', 'main').element;
    setChildren(main, made.filter(part => part.isInMain).map(part => part.element));
    const outside = made.filter(part => !part.isInMain).map(part => part.element);
    const at = outside.findIndex(element => element.tagName !== 'HEADER');
    outside.splice(at < 0 ? outside.length : at, 0, main);
    setChildren(this.#root, outside);
    for (const key of [...this.#nodes.keys()]) if (!alive.has(key)) this.#nodes.delete(key);
    this.#follow(marks, isSamePage);
  }

  // ---- elements --------------------------------------------------------------------------------------------

  #node(key, tag, alive) {
    const whole = tag + ' ' + key;
    alive.add(whole);
    let node = this.#nodes.get(whole);
    if (!node) {
      node = {element: document.createElement(tag), isNew: true};
      node.element.dataset.key = whole;
      this.#nodes.set(whole, node);
    }
    return node;
  }

  #nodeOf(element) { return this.#nodes.get(element.closest('[data-key]')?.dataset.key); }

  #part(part, node, isSamePage) {
    const {element} = node('part:' + part.name, part.tag);
    const children = part.blocks.map(block => this.#block(block, node, isSamePage));
    setChildren(element, children);
    setAttribute(element, 'inert', part.isBehind ? '' : null);
    if (part.tag === 'dialog') setAttribute(element, 'open', '');
    if (part.tag === 'dialog' || part.tag === 'aside') {
      const heading = element.querySelector('h1, h2, h3');
      setAttribute(element, 'aria-labelledby', heading ? this.#idOf(heading) : null);
    }
    return {...part, element};
  }

  #idOf(element) {
    if (!element.id) element.id = 'reader-' + (++this.#ids);
    return element.id;
  }

  #block(block, node, isSamePage) {
    if (block.kind === 'one') return this.#one(block.marks[0], block.keys[0], node, isSamePage);
    const outer = node(block.key, block.kind === 'list' ? 'ul' : 'fieldset').element;
    if (block.kind === 'list') setAttribute(outer, 'role', 'list');  // some browsers take a list without dots for none
    const inner = block.marks.map((mark, index) => {
      const one = this.#one(mark, block.keys[index], node, isSamePage);
      if (block.kind !== 'list') return one;
      const item = node('item:' + block.keys[index], 'li').element;
      setChildren(item, [one]);
      return item;
    });
    if (block.kind === 'group' && block.hint) {
      const legend = node('legend:' + block.key, 'legend').element;
      setText(legend, block.hint);
      inner.unshift(legend);
    }
    setChildren(outer, inner);
    return outer;
  }

  // One mark. Returns: its element, or what stands around it.
  #one(mark, key, node, isSamePage) {
    const made = node(key, tags[mark.role](mark));
    made.mark = mark;
    const {element} = made;
    this.#place(made, mark.rect);
    if (element.classList.contains('seen') !== mark.visible) element.classList.toggle('seen', mark.visible);
    const needsLabel = element.tagName === 'INPUT' || element.tagName === 'TEXTAREA';
    if (needsLabel) return this.#labelled(made, key, node);
    if (mark.role === 'image') this.#image(element, mark);
    else if (mark.role === 'status' || mark.role === 'alert') this.#verdict(made, key, node, isSamePage);
    else setText(element, words(mark));
    if (element.tagName === 'BUTTON') this.#button(element, mark);
    if (mark.level === 1) setAttribute(element, 'tabindex', -1);
    made.isNew = false;
    return element;
  }

  // By the element's own style, which a policy against styles inside the page allows.
  #place(made, [x, y, width, height]) {
    const scale = this.#scale(), px = pixels => Math.round(pixels / scale) + 'px';
    const where = `left: ${px(x)}; top: ${px(y)}; width: ${px(width)}; height: ${px(height)};`;
    if (made.where !== where) made.element.style.cssText = made.where = where;
  }

  #button(element, mark) {
    if (element.type !== 'button') element.type = 'button';
    if (element.disabled === mark.enabled) element.disabled = !mark.enabled;
    setAttribute(element, 'aria-expanded', 'open' in mark ? mark.open : null);
    const current = mark.role === 'place' ? 'page' : 'true';
    setAttribute(element, 'aria-current', mark.on && mark.role !== 'button' ? current : null);
  }

  #image(element, mark) {
    setAttribute(element, 'role', 'img');
    setAttribute(element, 'aria-label', words(mark));
    setAttribute(element, 'tabindex', mark.touchable && mark.enabled ? 0 : null);
  }

  #verdict(made, key, node, isSamePage) {
    const {element, mark} = made;
    if (mark.role === 'alert') setAttribute(element, 'role', 'alert');
    let inner = element;
    if (mark.touchable) {
      const button = node('touch:' + key, 'button');
      button.mark = mark;
      inner = button.element;
      setChildren(element, [inner]);
      this.#button(inner, mark);
    }
    const text = words(mark);
    if (!made.isNew || !isSamePage || mark.role === 'alert') return setText(inner, text);
    setTimeout(() => setText(inner, words(made.mark)), fillAfter);
  }

  // A field, a switch, a box or a choice with its label, and why what stands in it was refused.
  #labelled(made, key, node) {
    const {element, mark} = made;
    const around = node('around:' + key, 'div').element, label = node('label:' + key, 'label').element;
    setText(label, words(mark));
    setAttribute(label, 'for', this.#idOf(element));
    if (element.disabled === mark.enabled) element.disabled = !mark.enabled;
    const children = [label, element];
    if (isField(mark)) {
      this.#field(made);
      if (mark.problem) {
        const problem = node('problem:' + key, 'p').element;
        setAttribute(problem, 'role', 'alert');
        setText(problem, mark.problem);
        setAttribute(element, 'aria-describedby', this.#idOf(problem));
        children.push(problem);
      } else {
        setAttribute(element, 'aria-describedby', null);
      }
      setAttribute(element, 'aria-invalid', mark.problem ? 'true' : null);
    } else {
      this.#box(element, mark);
    }
    setChildren(around, children);
    made.isNew = false;
    return around;
  }

  #field(made) {
    const {element, mark} = made;
    if (made.isNew) {
      if (element.tagName === 'INPUT') element.type = 'text';
      // Only sentences are corrected: names, codes and figures mean what was typed.
      const attributes = mark.long ? {autocomplete: 'off', autocapitalize: 'sentences', autocorrect: 'on', spellcheck: 'true'}
                                   : {autocomplete: 'off', autocapitalize: 'off', autocorrect: 'off', spellcheck: 'false'};
      if (mark.role === 'number field') attributes.inputmode = 'decimal';
      for (const [name, value] of Object.entries(attributes)) setAttribute(element, name, value);
    }
    setAttribute(element, 'placeholder', mark.hint || null);
    if (made.isDirty && element.value === mark.value) made.isDirty = false;
    const isOurs = document.activeElement === element && made.isDirty;
    if (!isOurs && element.value !== mark.value) element.value = mark.value;
  }

  #box(element, mark) {
    const type = mark.role === 'radio' ? 'radio' : 'checkbox';
    if (element.type !== type) element.type = type;
    setAttribute(element, 'role', mark.role === 'switch' ? 'switch' : null);
    if (type === 'radio') setAttribute(element, 'name', mark.group || mark.name);
    if (element.checked !== Boolean(mark.on)) element.checked = Boolean(mark.on);
  }

  // ---- what is done to them --------------------------------------------------------------------------------

  #act(what, name, text = '') {
    return this.#program.act(what, name, text);
  }

  #clicked(event) {
    const node = this.#nodeOf(event.target);
    const mark = node?.mark;
    if (!mark || isField(mark)) return;
    event.preventDefault();  // what it becomes is the program's to say
    const isPointer = Boolean(event.pointerType);  // then the program's gestures have had it already
    if (isPointer || !mark.touchable || !mark.enabled) return;
    this.#inUse = true;
    this.#wanted = null;
    this.#act('tap', mark.name);
  }

  #focused(event) {
    this.#inUse = true;
    if (this.#isMoving) return;
    const mark = this.#nodeOf(event.target)?.mark;
    if (!mark || !mark.touchable || !mark.enabled) return;
    if (mark.name === this.#appFocus && !this.#wanted) return;
    this.#wanted = {name: mark.name, since: performance.now()};
    this.#act('focus', mark.name);
  }

  #left(event) {
    if (event.relatedTarget && !this.#root.contains(event.relatedTarget)) this.#inUse = false;
  }

  #edited(event) {
    const node = this.#nodeOf(event.target);
    if (!node?.mark || !isField(node.mark)) return;
    node.isDirty = true;
    if (event.isComposing) return;
    this.#act('write', node.mark.name, event.target.value);
  }

  #committed(event) {
    const mark = this.#nodeOf(event.target)?.mark;
    if (mark && isField(mark)) this.#act('leave', mark.name);
  }

  // Enter in a field of one line keeps it, as it does in the program.
  #key(event) {
    const mark = this.#nodeOf(event.target)?.mark;
    if (event.key === 'Enter' && !event.isComposing && mark && isField(mark) && !mark.long) this.#act('leave', mark.name);
  }

  // ---- the program's focus ---------------------------------------------------------------------------------

  #follow(marks, isSamePage) {
    const name = marks.find(mark => mark.focused)?.name || '';
    const hasMoved = name !== this.#appFocus;
    this.#appFocus = name;
    if (this.#wanted) {
      const isLate = performance.now() - this.#wanted.since > longestWait;
      if (this.#wanted.name !== name && !isLate) return;
      this.#wanted = null;
    }
    if (!this.#inUse) return;
    const isLost = !this.#root.contains(document.activeElement);
    if (!isLost && (!hasMoved || document.activeElement === this.#atTitle)) return;
    // A page that has just come is read from its title on, whatever has the program's focus on it.
    const title = isLost ? this.#root.querySelector(':not([inert]) > h1') : null;
    this.#atTitle = isSamePage ? null : title;
    const target = this.#atTitle || this.#elementOf(name) || title;
    if (!target || target === document.activeElement) return;
    this.#isMoving = true;
    target.focus({preventScroll: true});
    this.#isMoving = false;
  }

  #elementOf(name) {
    if (!name) return null;
    for (const node of this.#nodes.values())
      if (node.mark?.name === name && node.element.matches('button, input, textarea, [tabindex]')) return node.element;
    return null;
  }
}
