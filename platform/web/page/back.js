// The back gesture of a phone is the way back inside the program: one entry of the browser's history stands for
// everything that can be gone back from, so that the gesture leaves the app only from a first page with nothing open.
'use strict';

const isField = mark => mark.role === 'text field' || mark.role === 'number field';

/** What back means now: the mark to tap, 'leave' a field, or null where it leaves the app. */
export function wayBack(marks) {
  const inReach = marks.filter(mark => !mark.behind && mark.enabled);
  const dialog = inReach.find(mark => mark.dialog);
  if (dialog) {
    const close = inReach.find(mark => mark.dialog && mark.name === dialog.part + '.close');
    return close ? close.name : 'Escape';
  }
  if (inReach.some(mark => mark.name === 'header.back')) return 'header.back';
  return inReach.some(mark => mark.focused && isField(mark) && mark.value) ? 'leave' : null;
}

export class BackGesture {
  #way = null;
  #isInside = history.state?.inside === true;
  #ignored = 0;  // steps back that were taken from here
  #act; #press;

  /** `act(what, name)`: does something to a mark (reader.js). `press(key)`: a key of the program. */
  constructor(act, press) {
    this.#act = act;
    this.#press = press;
    addEventListener('popstate', () => this.#popped());
  }

  /** The program has come to rest with these marks. */
  update(marks) {
    this.#way = wayBack(marks);
    if (this.#way && !this.#isInside) this.#goInside();
    if (!this.#way && this.#isInside) {
      this.#isInside = false;
      ++this.#ignored;
      history.back();
    }
  }

  #goInside() {
    history.pushState({inside: true}, '');
    this.#isInside = true;
  }

  #popped() {
    if (this.#ignored > 0) {
      --this.#ignored;
      return;
    }
    this.#isInside = false;
    const way = this.#way;
    if (!way) return;
    this.#goInside();  // at once: a second gesture may come before the program has answered
    this.#act('leave', '');  // what was typed is kept as by touching elsewhere
    if (way === 'Escape') this.#press('Escape');
    else if (way !== 'leave') this.#act('tap', way);
  }
}
