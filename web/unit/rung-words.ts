/** What a forecast rests on, in plain words with the counts: the rung of the ladder of evidence, and what carried it. */
import type { EvidenceRung, UnitOutlook } from '../../api/contract/unit.ts';
import { isForeseen } from '../foreseen.ts';
import { count, counted } from '../format.ts';
import { BASIS_MEANINGS, COMPONENT_WORDS } from '../words.ts';

type Parts = { one: string; many: string };

const PARTS: Record<EvidenceRung['component'], Parts> = {
  battery: { one: 'battery', many: 'batteries' },
  starter: { one: 'starter', many: 'starters' },
};

/** `rung` undefined: an assessment that did not keep it. */
export function restsOn({ basis, component }: UnitOutlook, rung: EvidenceRung | undefined): string {
  if (basis.length === 0 || !isForeseen({ basis })) return '';
  if (rung === undefined) return `Rests on ${basis.map(plainMeaning).join('; ')}.`;
  const own = basis.includes('condition') ? `${BASIS_MEANINGS['condition']!}, and on ` : '';
  const corrected = rung.corrected
    ? ` How this fleet’s ${COMPONENT_WORDS[component].toLowerCase()} forecasts of the past came out has corrected it.`
    : '';
  const open = basis.includes('beyond_horizon') ? ` ${sentence(BASIS_MEANINGS['beyond_horizon']!)}` : '';
  return `Rests on ${own}${rungWords(rung, PARTS[component])}.${corrected}${open}`;
}

function rungWords(rung: EvidenceRung, { one, many }: Parts): string {
  const parts = (value: number) => counted(value, one, many);
  const { failures, lives, fleetFailures, fleetLives } = rung;
  const fleet = `${count(fleetFailures)} of ${parts(fleetLives)} on record failed`;
  const ofClass = `${count(failures)} of ${parts(lives)} of this class failed`;
  switch (rung.rung) {
    case 'elsewhere':
      return `what is known of such parts elsewhere: of ${parts(fleetLives)} on record here none has failed yet`;
    case 'fleet':
      return `this fleet’s own replacements: ${fleet}, none of this class yet`;
    case 'pooled_shape':
      return `this fleet’s own replacements: ${fleet}; ${ofClass}, too few to go by alone`;
    case 'own_scale':
      return `this fleet’s own replacements: ${ofClass}, enough for how long they last; how far they scatter is taken from the whole fleet`;
    case 'own_both':
      return `this fleet’s own replacements: ${ofClass}`;
  }
}

function plainMeaning(word: string): string {
  return BASIS_MEANINGS[word] ?? word;
}

function sentence(words: string): string {
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}.`;
}
