// @ts-check
// Proof and sign-off: what the proof says beside the plaque, and who has signed for what is cut.

import { h, button, reveal, say, sentences } from './dom.js';
import { findingsOfPart } from './findings.js';
import { everythingElse, keys } from './form.js';
import { pieceAt } from './schema.js';
import { section } from './sections.js';

/** @typedef {import('./desk.js').Desk} Desk */

const DECIDING = ['client', 'date', 'spelling', 'signatures'];

/** @param {Desk} desk */
export const proof = (desk) =>
  section('proof', 'Proof and sign-off', [
    findingsOfPart(desk, 'proof'),
    keys(desk, ['proof'], pieceAt(desk.schema, ['proof']), { only: DECIDING }),
    everythingElse('Everything else about the proof', () => [
      keys(desk, ['proof'], pieceAt(desk.schema, ['proof']), { but: DECIDING }),
    ]),
    everythingElse('What was accepted', () => [keys(desk, [], desk.schema, { only: ['accept'] })]),
    signing(desk),
  ]);

/** Today, where the person is who signs. */
function today() {
  const now = new Date();
  const pad = (/** @type {number} */ number) => String(number).padStart(2, '0');
  return `${now.getFullYear()}-${pad(now.getMonth() + 1)}-${pad(now.getDate())}`;
}

/** @param {Desk} desk */
function signing(desk) {
  const mark = h('p', { class: 'mark' });
  const said = h('p', { class: 'told' });
  const signatures = h('ul');
  const changes = h('ul', { class: 'changes' });
  const changed = h('div', {}, h('p', {}, 'Otherwise than it was signed:'), changes);
  const status = h('p', { role: 'status', class: 'wrong' });
  const by = h('input', {
    id: 'sign-by',
    type: 'text',
    required: true,
    maxlength: '500',
    autocomplete: 'name',
  });
  const role = h('input', {
    id: 'sign-role',
    type: 'text',
    required: true,
    maxlength: '500',
    list: 'sign-roles',
    autocomplete: 'off',
  });
  const roles = h('datalist', { id: 'sign-roles' });
  const date = h('input', { id: 'sign-date', type: 'date', required: true, value: today() });
  const form = h(
    'form',
    {
      class: 'sign',
      onsubmit: (/** @type {Event} */ event) => {
        event.preventDefault();
        void sign();
      },
    },
    h('h3', {}, 'Sign for what is cut'),
    h('div', { class: 'row' }, h('label', { for: 'sign-by' }, 'Who signs'), h('div', { class: 'value' }, by)),
    h(
      'div',
      { class: 'row' },
      h('label', { for: 'sign-role' }, 'As what'),
      h('div', { class: 'value' }, role, roles),
      h(
        'p',
        { class: 'hint' },
        'Such as: for the ringers. Who signs again in the same role replaces the earlier signature.',
      ),
    ),
    h('div', { class: 'row' }, h('label', { for: 'sign-date' }, 'On'), h('div', { class: 'value' }, date)),
    h('p', { class: 'buttons' }, h('button', { type: 'submit' }, 'Sign')),
    status,
  );
  const withdraw = button('Withdraw the sign-off', () => void desk.ask('withdraw'));
  const sign = async () => {
    const shown = desk.bench.plaque?.mark ?? '';
    const answer = await desk.ask('sign', {
      by: by.value.trim(),
      role: role.value.trim(),
      date: date.value,
      mark: shown,
    });
    const refused =
      answer === null ? desk.notice : answer.kept === 'none' ? answer.mistakes[0]?.message : null;
    say(status, refused ?? '');
    if (!refused) by.value = role.value = '';
  };
  const element = h(
    'div',
    { class: 'signing' },
    mark,
    said,
    signatures,
    changed,
    h('p', { class: 'buttons' }, withdraw),
    form,
  );
  return {
    element,
    show: () => {
      const plaque = desk.bench.plaque;
      const signed = plaque?.signed ?? null;
      say(mark, `Proof mark of what is shown: ${plaque?.mark ?? 'none yet'}`);
      say(
        said,
        signed === null
          ? 'Nobody has signed yet.'
          : signed.holds
            ? 'Signed, and it is what is cut.'
            : `Signed as ${signed.mark}, which is no longer what would be cut: artwork and pattern are withheld.`,
      );
      sentences(signatures, signed?.signatures ?? []);
      sentences(changes, signed?.changes ?? []);
      reveal(signatures, signed !== null);
      reveal(changed, (signed?.changes.length ?? 0) > 0);
      reveal(withdraw, signed !== null);
      reveal(form, plaque !== null);
      const wanted = desk.value(['proof', 'signatures']);
      const names = Array.isArray(wanted) ? wanted.map(String) : [];
      if ([...roles.options].map((one) => one.value).join('\n') !== names.join('\n'))
        roles.replaceChildren(...names.map((value) => h('option', { value })));
    },
  };
}
