// The keyboard. What is typed, corrected or made by an input method happens in a hidden field of the page, and goes to
// the program as "so many characters less before the cursor, then this text". Keys that mean something to the program
// go there as keys.
'use strict';

const keysOfProgram = new Set(['Enter', 'NumpadEnter', 'Escape', 'Tab', 'ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown',
  'Home', 'End', 'PageUp', 'PageDown', 'Delete']);

const modifiers = new Set(['Control', 'Meta', 'Shift', 'Alt']);

export class TextField {
  #field;
  #post;
  #had = '';

  constructor(field, post) {
    this.#field = field;
    this.#post = post;
    field.addEventListener('input', () => this.#changed());
    field.addEventListener('beforeinput', event => this.#before(event));
  }

  /** Inside a touch: the area of a field of the program, or undefined. */
  touched(area) {
    const field = this.#field;
    if (!area) return field.blur();
    field.setAttribute('autocapitalize', area.prose ? 'sentences' : 'off');
    field.setAttribute('autocorrect', area.prose ? 'on' : 'off');
    field.spellcheck = Boolean(area.prose);
    field.inputMode = area.kind === 'number' ? 'decimal' : 'text';
    field.value = this.#had = area.text;
    field.focus({preventScroll: true});
    field.setSelectionRange(field.value.length, field.value.length);
  }

  /** `isKept(event)`: whether something else in the page deals with that key. */
  listenToKeys(isKept) {
    addEventListener('keydown', event => { if (!isKept(event)) this.#key(event, true); });
    addEventListener('keyup', event => { if (!isKept(event)) this.#key(event, false); });
  }

  get #hasFocus() { return document.activeElement === this.#field; }

  // Some on-screen keyboards send no key for Enter, only the break it would make.
  #before(event) {
    if (event.inputType !== 'insertLineBreak' && event.inputType !== 'insertParagraph') return;
    event.preventDefault();
    this.#press('Enter');
  }

  #press(code) {
    for (const down of [true, false]) this.#post({kind: 'key', code, key: code, down, held: 0});
  }

  #changed() {
    const now = Array.from(this.#field.value), before = Array.from(this.#had);
    let same = 0;
    while (same < now.length && same < before.length && now[same] === before[same]) ++same;
    this.#had = this.#field.value;
    this.#post({kind: 'edit', back: before.length - same, text: now.slice(same).join('')});
  }

  #key(event, down) {
    if (event.isComposing || event.key === 'Unidentified' || event.key === 'Process') return;
    const command = event.ctrlKey || event.metaKey;
    const held = (command ? 1 : 0) | (event.shiftKey ? 2 : 0) | (event.altKey ? 4 : 0);
    // The program must hear of their release, wherever the focus is: text typed while it holds Ctrl is no text to it.
    if (modifiers.has(event.key)) return this.#post({kind: 'key', code: event.code, key: event.key, down, held});
    const isPaste = command && event.key.toLowerCase() === 'v';
    const isText = event.key.length === 1 && !command;
    if (this.#hasFocus && (isPaste || !(command || keysOfProgram.has(event.code) || this.#isEmptied(event)))) return;
    this.#post({kind: 'key', code: event.code, key: event.key, down, held});
    if (down && isText && !this.#hasFocus) this.#post({kind: 'edit', back: 0, text: event.key});
    if (!/^F([2-9]|1[0-2])$/.test(event.code)) event.preventDefault();
  }

  // A hidden field with nothing in it says nothing when Backspace is pressed.
  #isEmptied(event) { return event.code === 'Backspace' && this.#field.value === ''; }
}
