// Photos by the browser's own decoder, in the worker: what platform/web/web_photos.cpp asks for.
//
// A picture is turned upright while it is decoded, and encoded anew from its pixels alone: no place, maker or time is in
// what comes out.
'use strict';

const quality = 0.85;

function fitted(width, height, longest) {
  const scale = Math.min(1, longest / Math.max(width, height));
  return [Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale))];
}

function drawn(picture, longest) {
  const [width, height] = fitted(picture.width, picture.height, longest);
  const canvas = new OffscreenCanvas(width, height);
  const context = canvas.getContext('2d', {alpha: false});
  context.fillStyle = '#fff';  // what is transparent becomes white
  context.fillRect(0, 0, width, height);
  context.imageSmoothingQuality = 'high';
  context.drawImage(picture, 0, 0, width, height);
  return {canvas, context, width, height};
}

async function encoded(picture, longest) {
  const blob = await drawn(picture, longest).canvas.convertToBlob({type: 'image/jpeg', quality});
  return new Uint8Array(await blob.arrayBuffer());
}

/** Two JPEGs of a file, the larger in front. */
export async function takenIn(file, {most_bytes: mostBytes, original_side: originalSide, copy_side: copySide}) {
  if (file.size > mostBytes) throw new DOMException(file.name, 'TooLarge');
  const picture = await createImageBitmap(file, {imageOrientation: 'from-image'});
  try {
    const original = await encoded(picture, originalSide);
    const copy = await encoded(picture, copySide);
    const bytes = new Uint8Array(original.length + copy.length);
    bytes.set(original);
    bytes.set(copy, original.length);
    return {value: {original: original.length}, bytes};
  } finally {
    picture.close();
  }
}

/** The pixels of a photo for the screen. */
export async function pixelsOf(bytes, longest) {
  const picture = await createImageBitmap(new Blob([bytes]), {imageOrientation: 'from-image'});
  try {
    const {context, width, height} = drawn(picture, longest);
    const {data} = context.getImageData(0, 0, width, height);
    return {value: {width, height}, bytes: new Uint8Array(data.buffer)};
  } finally {
    picture.close();
  }
}
