import { SURVIVAL_DAYS, failureProbability, type Outlook } from '../../etl/model/outlook.ts';

/** S(t) of a constant hazard: the Weibull of shape 1. */
export function exponentialSurvival(meanDays: number): Float64Array {
  return weibullSurvival(1, meanDays, 0);
}

/** S(t | alive at age) of a Weibull life, at the days of a stored curve. */
export function weibullSurvival(shape: number, scaleDays: number, ageDays: number): Float64Array {
  const cumulative = (days: number) => (days / scaleDays) ** shape;
  return Float64Array.from(SURVIVAL_DAYS, (days) => Math.exp(cumulative(ageDays) - cumulative(ageDays + days)));
}

/** An outlook whose probabilities agree with its curve; window dates are left open. */
export function outlook(known: Partial<Outlook> = {}): Outlook {
  const survival = known.survival === undefined ? exponentialSurvival(1200) : known.survival;
  const within = (days: number) => (survival === null ? null : failureProbability(survival, days));
  return {
    unit: 'U1',
    position: '',
    component: 'battery',
    ageDays: 700,
    pFail30d: within(30),
    pFail60d: within(60),
    pFail90d: within(90),
    windowEarlyOn: null,
    windowMidOn: null,
    windowLateOn: null,
    basis: ['lives', 'condition'],
    evidence: ['log sag ratio rising 0.21 a year'],
    meanLifeDays: 1200,
    ...known,
    survival,
  };
}
