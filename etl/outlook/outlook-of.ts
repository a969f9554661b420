import { failureProbability, type Outlook } from '../model/outlook.ts';
import { dayNumber } from '../model/time.ts';
import type { BasisWord, ForecastComponent } from '../model/words.ts';
import type { ServiceLife } from '../model/service-life.ts';
import type { Readings } from '../trends/recent-reading.ts';
import { combinedSurvival, windowDate } from './combine.ts';
import { conditionTrust, LEAST_POINTS } from './condition-trust.ts';
import { conditionColumns } from './hazard-features.ts';
import { contributions, hazardForecast, type HazardCase } from './hazard-forecast.ts';
import type { HazardModel } from './hazard-model.ts';
import { laterSurvival, type LaterHazard } from './later-hazard.ts';
import { evidenceOf, type EvidenceInput } from './evidence.ts';
import type { UsualLevels } from './condition-index.ts';
import type { LifeModel } from './life-model.ts';
import { lifeSurvival } from './life-survival.ts';
import { agesOfLife } from './unknown-age.ts';
import { wearSurvival, type WearModel } from './wear-model.ts';

export type OutlookInput = Omit<EvidenceInput, 'ageDays' | 'life' | 'carried'> & {
  unit: string;
  position: string;
  component: ForecastComponent;
  life: ServiceLife;
  unitInServiceOn: string | null;
  model: LifeModel;
  wear: WearModel | null;
  hazard: HazardModel | null;
  later: LaterHazard | null;
  usual: UsualLevels;
  readings: Readings;
  asOfOn: string;
};

/** Survival forecast of one component of one engine, given that it works on the as-of day. */
export function outlookOf(input: OutlookInput): Outlook {
  const { unit, position, component, life, model, asOfOn } = input;
  const asOfDay = dayNumber(asOfOn);
  const ageDays = life.fittedOn === null ? null : Math.max(0, asOfDay - dayNumber(life.fittedOn));
  const ages = agesOfLife({ ...life, unitInServiceOn: input.unitInServiceOn }, asOfDay, model.best);
  const aged = lifeSurvival(model, ages);
  const condition = conditionOf(input);
  const of: HazardCase = {
    day: asOfDay,
    class: input.class,
    ageDays: ages.age.reduce((sum, age, k) => sum + ages.weight[k]! * age, 0),
    condition: conditionColumns(input.readings, input),
    troubles: input.troubles.jumpStarts + input.troubles.noStarts,
  };
  const floor = { aged, suddenShare: condition.suddenShare };
  const near = hazardForecast(combinedSurvival({ life: aged, ...condition }), input.hazard, { of, floor });
  const survival = laterSurvival(near, input.later);
  const carried = input.hazard === null ? {} : contributions(input.hazard, of);
  const windows = [0.1, 0.5, 0.9].map((p) => windowDate(survival, p, asOfDay));
  const basis: BasisWord[] = [model.rung === 'prior' ? 'prior' : 'lives'];
  if (condition.wear !== null) basis.push('condition');
  if (windows.includes(null)) basis.push('beyond_horizon');
  return {
    unit,
    position,
    component,
    ageDays,
    pFail30d: failureProbability(survival, 30),
    pFail60d: failureProbability(survival, 60),
    pFail90d: failureProbability(survival, 90),
    windowEarlyOn: windows[0]!,
    windowMidOn: windows[1]!,
    windowLateOn: windows[2]!,
    basis,
    evidence: evidenceOf({ ...input, ageDays, life: model, carried }),
    survival,
    meanLifeDays: model.meanDays,
  };
}

function conditionOf({ path, wear }: OutlookInput): { wear: Float64Array | null; suddenShare: number; trust: number } {
  if (wear === null || path === null || path.day.length < LEAST_POINTS)
    return { wear: null, suddenShare: 0.25, trust: 0 };
  return {
    wear: wearSurvival(path, wear),
    suddenShare: wear.suddenShare,
    trust: conditionTrust(path.day.length),
  };
}

/** Where nothing can be said: why. */
export function refusedOutlook(where: Pick<Outlook, 'unit' | 'position' | 'component'>, why: string): Outlook {
  const { unit, position, component } = where;
  return {
    unit,
    position,
    component,
    ageDays: null,
    pFail30d: null,
    pFail60d: null,
    pFail90d: null,
    windowEarlyOn: null,
    windowMidOn: null,
    windowLateOn: null,
    basis: ['none'],
    evidence: [why],
    survival: null,
    meanLifeDays: null,
  };
}
