// @ts-check
// The layout file itself, for who likes to write it, with its mistakes by line.

import { attribute, button, h, reveal, say } from './dom.js';
import { section } from './sections.js';

/** @typedef {import('./desk.js').Desk} Desk */
/** @typedef {import('./types.js').Mistake} Mistake */

/** @param {Desk} desk */
export function text(desk) {
  const area = h('textarea', {
    id: 'file-text',
    class: 'file-text',
    rows: '18',
    spellcheck: 'false',
    autocomplete: 'off',
    wrap: 'off',
    'data-own-undo': true,
    oninput: () => mark(),
  });
  const list = h('ul', { class: 'wrong', id: 'file-wrong' });
  const said = h('p', { class: 'hint', role: 'status' });
  const keep = button('Keep this text', () => void send());
  const drop = button('Take what is in the file', () => {
    area.value = desk.bench.text;
    base = desk.bench.text;
    mistakes([]);
    mark();
  });
  let base = '';
  const mark = () => {
    const own = area.value !== base;
    reveal(drop, own);
    attribute(keep, 'aria-disabled', own ? null : 'true');
    attribute(area, 'data-own-undo', own);
    say(
      said,
      !own
        ? ''
        : base === desk.bench.text
          ? 'What you have written here is not in the file yet.'
          : 'The file has been changed since you began to write here.',
    );
  };
  const send = async () => {
    if (area.value === base) return;
    const answer = await desk.change([{ do: 'text', to: area.value, was: base }]);
    if (answer === null) return;
    if (answer.clash) {
      base = desk.bench.text;
      say(
        said,
        'The file has been changed since you began to write here. Keep this text once more to replace it.',
      );
      return;
    }
    mistakes(answer.mistakes);
    if (answer.kept !== 'none') {
      base = area.value = answer.bench.text;
      mark();
    }
  };
  /** @param {Mistake[]} all */
  const mistakes = (all) => {
    list.replaceChildren(
      ...all.map((one) =>
        h(
          'li',
          {},
          one.line > 0 ? button(`Line ${one.line}, column ${one.column}`, () => go(one)) : null,
          ` ${one.message}${one.help ? `; ${one.help}` : ''}`,
        ),
      ),
    );
    reveal(list, all.length > 0);
    attribute(area, 'aria-invalid', all.length > 0 ? 'true' : null);
    attribute(area, 'aria-describedby', all.length > 0 ? 'file-wrong' : null);
  };
  /** @param {Mistake} mistake */
  const go = (mistake) => {
    const before = area.value
      .split('\n')
      .slice(0, mistake.line - 1)
      .join('\n');
    const start =
      before.length +
      (mistake.line > 1 ? 1 : 0) +
      [...(area.value.split('\n')[mistake.line - 1] ?? '')].slice(0, mistake.column - 1).join('').length;
    area.focus();
    area.setSelectionRange(start, start);
    area.scrollTop = (mistake.line - 4) * (area.scrollHeight / area.value.split('\n').length);
  };
  return section('file', 'The file itself', [
    {
      element: h(
        'div',
        {},
        h('label', { for: 'file-text' }, 'The layout as the command line reads it (TOML)'),
        area,
        said,
        list,
        h('p', { class: 'buttons' }, keep, ' ', drop),
      ),
      show: () => {
        if (area.value === base) {
          const changed = base !== desk.bench.text;
          base = desk.bench.text;
          if (area.value !== base) area.value = base;
          if (changed || desk.bench.mistakes.length > 0) mistakes(desk.bench.mistakes);
        }
        mark();
      },
    },
  ]);
}
