// @ts-check
// What was noticed, beside what it speaks of: the sentence, whose rule it is, what would cure it
// by a click, and how it is accepted with a reason.

import { attribute, button, fill, h, keep, reveal, say, unique } from './dom.js';
import { same, spoken, within } from './paths.js';

/** @typedef {import('./desk.js').Desk} Desk */
/** @typedef {import('./types.js').Finding} Finding */
/** @typedef {import('./types.js').Path} Path */

/** How a severity is called. @type {Record<string, string>} */
const CALLED = { stop: 'Stop', caution: 'Caution', note: 'Note' };

/** Which part of the sheet speaks of a table of the file. @type {Record<string, string>} */
const PARTS = {
  plate: 'plate',
  corners: 'plate',
  line: 'inscription',
  wording: 'inscription',
  lettering: 'lettering',
  engraving: 'lettering',
  fit: 'lettering',
  photo: 'photographs',
  mount: 'fixing',
  face: 'face',
};

/** The part of the sheet that a finding stands in. @param {Path} path */
export const partOf = (path) => PARTS[String(path[0])] ?? 'proof';

/** The place on the page of a finding. @param {number} index into the findings */
export const anchor = (index) => `finding-${index + 1}`;

/**
 * The findings that belong to one place of the page.
 * @param {Desk} desk @param {(finding: Finding) => boolean} belongs
 */
export function findings(desk, belongs) {
  /** @type {ReturnType<typeof note>[]} */
  const parts = [];
  const element = h('ul', { class: 'findings' });
  /** @type {number[]} */
  let indexes = [];
  return {
    element,
    show: () => {
      const all = desk.bench.plaque?.findings ?? [];
      indexes = all.flatMap((finding, at) => (belongs(finding) ? [at] : []));
      keep(element, parts, indexes.length, (place) => note(desk, () => indexes[place]));
      reveal(element, indexes.length > 0);
    },
  };
}

/** Findings of one line of the inscription. @param {Desk} desk @param {() => number} index */
export const findingsOfLine = (desk, index) =>
  findings(desk, (finding) => within(finding.path, ['line', index()]));

/** Findings of a part of the sheet that belong to no line. @param {Desk} desk @param {string} part */
export const findingsOfPart = (desk, part) =>
  findings(
    desk,
    (finding) =>
      partOf(finding.path) === part &&
      !(
        finding.path[0] === 'line' &&
        typeof finding.path[1] === 'number' &&
        finding.path[1] < (desk.bench.plaque?.lines.length ?? 0)
      ),
  );

/** @param {Desk} desk @param {() => number} index */
function note(desk, index) {
  const called = h('strong', { class: 'severity' });
  const message = h('span');
  const rule = h('p', { class: 'rule' });
  const accepted = h('p', { class: 'accepted' });
  const cures = h('ul', { class: 'cures' });
  const accept = acceptance(desk, index);
  const element = h(
    'li',
    { class: 'finding', tabindex: '-1' },
    h('p', {}, called, ' ', message),
    rule,
    cures,
    accepted,
    accept.element,
  );
  /** @type {import('./types.js').Cure[]} */
  let offered = [];
  return {
    element,
    show: () => {
      const finding = desk.bench.plaque?.findings[index()];
      if (!finding) return;
      attribute(element, 'id', anchor(index()));
      attribute(element, 'data-severity', finding.severity);
      say(
        called,
        finding.accepted === null
          ? (CALLED[finding.severity] ?? finding.severity)
          : `${CALLED[finding.severity] ?? finding.severity}, accepted`,
      );
      say(message, finding.message);
      say(rule, `Rule: ${finding.rule}`);
      const mine = (desk.cures?.cures ?? []).filter((cure) => cure.finding === index());
      if (!same(mine, offered))
        fill(
          cures,
          mine.map((cure) => cureOf(desk, cure)),
        );
      offered = mine;
      reveal(cures, mine.length > 0);
      say(accepted, `Accepted: ${finding.accepted ?? ''}`);
      reveal(accepted, finding.accepted !== null);
      reveal(accept.element, finding.accepted === null && finding.can_accept);
    },
  };
}

/** @param {Desk} desk @param {import('./types.js').Cure} cure */
function cureOf(desk, cure) {
  const id = unique('cure');
  const changes = cure.changes.map(
    ({ path, to }) => /** @type {import('./types.js').Change} */ ({ do: 'set', path, to }),
  );
  return h(
    'li',
    {},
    h('span', { id }, cure.message),
    ' ',
    button('Do this', () => void desk.change(changes), { 'aria-describedby': id }),
  );
}

/** @param {Desk} desk @param {() => number} index */
function acceptance(desk, index) {
  const id = unique('reason');
  const reason = h('input', { id, type: 'text', maxlength: '500', required: true });
  const form = h(
    'form',
    {
      onsubmit: (/** @type {Event} */ event) => {
        event.preventDefault();
        keepReason();
      },
    },
    h('label', { for: id }, 'Why it is right as it is; it is printed on the proof'),
    reason,
    h('p', { class: 'buttons' }, h('button', { type: 'submit' }, 'Accept it')),
  );
  const element = h('details', { class: 'accept' }, h('summary', {}, 'Accept it with a reason'), form);
  const keepReason = () => {
    const finding = desk.bench.plaque?.findings[index()];
    if (!finding || reason.value.trim() === '') return;
    const entry = {
      code: finding.code,
      where: finding.place,
      ...(finding.measured === null ? {} : { measured: finding.measured }),
      reason: reason.value.trim(),
    };
    const there = desk.value(['accept']);
    void desk.change([
      Array.isArray(there) && there.length > 0
        ? { do: 'insert', path: ['accept', there.length], to: entry }
        : { do: 'set', path: ['accept'], to: [entry] },
    ]);
    reason.value = '';
    element.open = false;
  };
  return { element };
}

/** How much was noticed, with a link to each. @param {Desk} desk */
export function noticed(desk) {
  const summary = h('summary');
  const list = h('ul');
  const element = h('details', { class: 'noticed' }, summary, list);
  const clear = h('p', { class: 'noticed' }, 'Nothing to mind.');
  const whole = h('div', {}, element, clear);
  let before = '';
  return {
    element: whole,
    show: () => {
      const all = (desk.bench.plaque?.findings ?? [])
        .map((finding, at) => ({ finding, at }))
        .filter(({ finding }) => finding.severity !== 'note' && finding.accepted === null);
      const stops = all.filter(({ finding }) => finding.severity === 'stop').length;
      const cautions = all.length - stops;
      say(
        summary,
        [stops > 0 && many(stops, 'stop'), cautions > 0 && many(cautions, 'caution')]
          .filter(Boolean)
          .join(', '),
      );
      const key = JSON.stringify(all.map(({ finding, at }) => [at, finding.severity, finding.path]));
      if (key !== before) {
        list.replaceChildren(
          ...all.map(({ finding, at }) =>
            h(
              'li',
              {},
              h(
                'a',
                { href: `#${anchor(at)}` },
                `${CALLED[finding.severity]}: ${finding.path.length > 0 ? spoken(finding.path) : 'the whole'}`,
              ),
            ),
          ),
        );
      }
      before = key;
      reveal(element, all.length > 0);
      reveal(clear, all.length === 0 && desk.bench.plaque !== null);
    },
  };
}

/** @param {number} count @param {string} word */
const many = (count, word) => `${count} ${word}${count === 1 ? '' : 's'}`;
