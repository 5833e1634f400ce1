/** Who stands here, and at which scale: asked when a cup is started and eight hours have gone. */
import { crew, shop } from '../cups.js';
import { button, el } from '../parts/el.js';
import { setCrew } from '../record.js';
import { scaleName } from '../trade/cards.js';
import { figure, t } from '../words.js';
import { draw, go, plainHeader, warning } from './frame.js';

/** @param {string} next  address to go on to */
export async function crewScreen(next) {
  const bundle = shop();
  if (!bundle) return go('');
  const scales = bundle.scales.filter((scale) => scale.newest);
  let person = crew()?.person ?? '';
  let scale = crew()?.scale ?? '';
  const confirm = button('action', t('Go on'), async () => {
    await setCrew(person, scale);
    go(next);
  });
  const allow = () => {
    confirm.disabled = !(person in bundle.people) || !scales.some((s) => scaleName(s) === scale);
  };
  const people = Object.entries(bundle.people).map(([code, name]) => ({ value: code, text: code, small: name }));
  const choices = scales.map((card) => ({
    value: scaleName(card),
    text: card.code,
    small: t('shows %(step)s g', { step: figure(card.readability) }),
  }));
  draw(
    'crew',
    plainHeader(t('Who weighs, on which scale?')),
    choice(t('Person'), people, person, (value) => {
      person = value;
      allow();
    }),
    choice(t('Scale'), choices, scale, (value) => {
      scale = value;
      allow();
    }),
    warning(
      t('Wear the gloves, eye protection and clothing the safety data sheet names, and ventilate. If skin or breathing reacts, stop and get medical advice.'),
    ),
    confirm,
  );
  allow();
}

/**
 * @param {string} legend
 * @param {{value: string, text: string, small: string}[]} options
 * @param {string} chosen
 * @param {(value: string) => void} onchoose
 */
function choice(legend, options, chosen, onchoose) {
  return el(
    'fieldset',
    { class: 'choice' },
    el('legend', {}, legend),
    ...options.map(({ value, text, small }) => {
      const input = el('input', { type: 'radio', name: legend, value, checked: value === chosen });
      input.addEventListener('change', () => onchoose(value));
      return el('label', {}, input, el('span', {}, el('strong', {}, text), el('small', {}, small)));
    }),
  );
}
