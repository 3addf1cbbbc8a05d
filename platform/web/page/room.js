// How much room the program has, and how large people want to read: what lies behind a notch or a rounded corner is
// left free by the page's style; what an on-screen keyboard covers is taken off the height; the size of text that the
// device is set to is a factor of the program's scale.
'use strict';

const usual = () => (CSS.supports('font: -apple-system-body') ? 17 : 16);  // pixels of text nobody has made larger
const mostScale = 3, step = 0.05;

/** 1 where the device's text is of the usual size, 2 where it is twice as large. */
export function textScale(probe) {
  const pixels = parseFloat(getComputedStyle(probe).fontSize) || usual();
  const scale = Math.round(pixels / usual() / step) * step;
  return Math.min(mostScale, Math.max(1, scale));
}

// Some browsers lay the keyboard over the page instead of making the page smaller.
function fitAboveKeyboard() {
  const free = visualViewport.height, isZoomed = visualViewport.scale > 1.01;
  const isCovered = !isZoomed && free < innerHeight - 1;
  document.documentElement.style.setProperty('--free-height', isCovered ? `${Math.round(free)}px` : '100%');
  if (visualViewport.offsetTop > 0 && !isZoomed) scrollTo(0, 0);
}

/** Calls `changed` when the size of text on this device is set to another one. */
export function watchRoom(probe, changed) {
  new ResizeObserver(changed).observe(probe);
  if (!window.visualViewport) return;
  visualViewport.addEventListener('resize', fitAboveKeyboard);
  visualViewport.addEventListener('scroll', fitAboveKeyboard);
}
