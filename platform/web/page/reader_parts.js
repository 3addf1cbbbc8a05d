// Marks put together as a page has them: landmarks, and in them lists of rows and groups of choices.
'use strict';

const tags = {header: 'header', list: 'aside', beside: 'aside', places: 'nav'};

const isRow = mark => mark.role === 'row';
const isChoice = mark => Boolean(mark.group) && (mark.role === 'radio' || mark.role === 'checkbox');
const stem = name => name.slice(0, name.indexOf('.') < 0 ? undefined : name.indexOf('.'));

/** What tells an element from all others, as long as it means the same: a mark's name, the words of a text. */
function keysOf(marks) {
  const seen = new Map();
  return marks.map(mark => {
    const isText = mark.name.startsWith('text.');
    const key = isText ? 'text:' + mark.part + ':' + mark.text : mark.name;
    const count = (seen.get(key) || 0) + 1;
    seen.set(key, count);
    return count === 1 ? key : key + ':' + count;
  });
}

/** What belongs together among `marks`: [{kind: 'one' | 'list' | 'group', key, hint, marks, keys}]. */
function blocksOf(marks, keys, partName) {
  const blocks = [], lists = new Map();
  const belongs = (block, mark) => block && (
    block.kind === 'list' ? isRow(mark) && block.stem === stem(mark.name)
                          : block.kind === 'group' && isChoice(mark) && block.group === mark.group);
  marks.forEach((mark, index) => {
    let block = blocks[blocks.length - 1];
    if (!belongs(block, mark)) {
      block = {kind: 'one', marks: [], keys: []};
      if (isRow(mark)) {
        const key = partName + ':' + stem(mark.name), count = (lists.get(key) || 0) + 1;
        lists.set(key, count);
        block = {kind: 'list', stem: stem(mark.name), key: 'list:' + key + ':' + count, marks: [], keys: []};
      }
      if (isChoice(mark))
        block = {kind: 'group', group: mark.group, key: 'group:' + mark.group, hint: mark.hint || '', marks: [], keys: []};
      blocks.push(block);
    }
    block.marks.push(mark);
    block.keys.push(keys[index]);
  });
  return blocks;
}

/**
 * Landmarks in reading order: [{name, tag, isInMain, isBehind, marks, blocks}]. Marks that say nothing are left out.
 */
export function partsOf(marks) {
  const parts = new Map();
  for (const mark of marks) {
    if (mark.role === 'none') continue;
    const name = mark.part || 'page';
    if (!parts.has(name)) parts.set(name, {name, marks: [], isDialog: Boolean(mark.dialog)});
    parts.get(name).marks.push(mark);
  }
  return [...parts.values()].map(part => {
    const tag = part.isDialog ? 'dialog' : tags[part.name] || 'div';
    return {
      name: part.name, tag, marks: part.marks, isInMain: tag === 'div' || tag === 'dialog',
      isBehind: part.marks.some(mark => mark.behind),
      blocks: blocksOf(part.marks, keysOf(part.marks), part.name),
    };
  });
}
