// Fingers and mouse, raw, for the program's own gesture layer (ui/frame/gesture.h).
'use strict';

const phases = ['pointerdown', 'pointermove', 'pointerup', 'pointercancel', 'pointerleave'];
const tapUnits = 12;  // a finger that moved farther has scrolled

/**
 * Passes all pointers on the canvas, or on what lies over it, to the worker. `lifted(x, y)` is called inside the touch itself, in pixels of the
 * canvas, when a press ends near where it began: only there may a page open the keyboard or a file chooser.
 */
export function listenToPointers(canvas, scale, post, lifted) {
  let pressed = null;

  const place = event => {
    const box = canvas.getBoundingClientRect();
    return [(event.clientX - box.left) * scale(), (event.clientY - box.top) * scale()];
  };
  const isMouse = event => event.pointerType === 'mouse';
  const told = (event, phase) => {
    const [x, y] = place(event);
    // Times cross to the worker as time since 1970: its clock and the page's begin at different moments.
    const time = performance.timeOrigin + event.timeStamp;
    return {phase, id: isMouse(event) ? 0 : event.pointerId & 0xffff, x, y, time, touch: isMouse(event) ? 0 : 1};
  };

  // A finger that has left the glass meanwhile cannot be held on to; its release is on its way.
  const capture = id => {
    try {
      canvas.setPointerCapture(id);
    } catch (error) {
      if (error.name !== 'NotFoundError') throw error;
    }
  };

  phases.forEach((name, phase) => canvas.addEventListener(name, event => {
    event.preventDefault();
    if (phase === 4 && !isMouse(event)) return;
    if ((phase === 0 || phase === 2) && isMouse(event) && event.button !== 0) return;
    if (phase === 0) capture(event.pointerId);
    const fine = phase === 1 && event.getCoalescedEvents ? event.getCoalescedEvents() : [];
    post({kind: 'pointers', list: (fine.length ? fine : [event]).map(one => told(one, phase))});
  }, {passive: false}));

  // Safari opens a keyboard only from touchend and mouseup, so those are what counts.
  const begin = point => { pressed = place(point); };
  const end = point => {
    const [x, y] = place(point);
    const isTap = pressed && Math.hypot(x - pressed[0], y - pressed[1]) < tapUnits * scale();
    pressed = null;
    if (isTap) lifted(x, y);
  };
  const options = {passive: false};
  canvas.addEventListener('touchstart', event => { event.preventDefault(); begin(event.changedTouches[0]); }, options);
  canvas.addEventListener('touchmove', event => event.preventDefault(), options);
  canvas.addEventListener('touchend', event => { event.preventDefault(); end(event.changedTouches[0]); }, options);
  canvas.addEventListener('mousedown', begin);
  canvas.addEventListener('mouseup', end);
  canvas.addEventListener('contextmenu', event => event.preventDefault());
  canvas.addEventListener('wheel', event => {
    event.preventDefault();
    const pixelsALine = 100;
    post({kind: 'wheel', x: -event.deltaX / pixelsALine, y: -event.deltaY / pixelsALine});
  }, options);
}
