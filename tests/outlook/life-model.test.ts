import { describe, expect, it } from 'vitest';
import { failureProbability, SURVIVAL_DAYS } from '../../etl/model/outlook.ts';
import { dateOf, dayNumber } from '../../etl/model/time.ts';
import { fitLifeModels, type ClassedLife, type LifeModel } from '../../etl/outlook/life-model.ts';
import { LIFE_PRIOR } from '../../etl/outlook/life-prior.ts';
import { lifeSurvival } from '../../etl/outlook/life-survival.ts';
import { agesNow, agesWhenMet } from '../../etl/outlook/unknown-age.ts';
import { createRandom } from '../../etl/stats/random.ts';
import { batteryLife } from '../support/service-lives.ts';

const known = (age: number) => ({ age: Float64Array.of(age), weight: Float64Array.of(1) });

/** Lives with a known Weibull, met at a random age and watched for two years: right-censored and left-truncated. */
function simulated(
  count: number,
  { shape, scale, seed }: { shape: number; scale: number; seed: number },
): ClassedLife[] {
  const random = createRandom(seed, 'lives');
  const watchedFrom = dayNumber('2024-01-01');
  const lives: ClassedLife[] = [];
  while (lives.length < count) {
    const life = scale * (-Math.log(random.uniform())) ** (1 / shape);
    const fitted = watchedFrom - random.uniform() * 2500;
    if (fitted + life <= watchedFrom) continue;
    const end = fitted + life;
    const failed = end < watchedFrom + 730;
    const to = failed ? end : watchedFrom + 730;
    lives.push(
      batteryLife({
        unit: `U${lives.length}`,
        fittedOn: dateOf(Math.floor(fitted)),
        watchedToOn: dateOf(Math.ceil(to)),
        removedOn: failed ? dateOf(Math.ceil(to)) : null,
        end: failed ? 'failure' : 'in_service',
      }),
    );
  }
  return lives;
}

const battery = (lives: readonly ClassedLife[]): LifeModel =>
  fitLifeModels(lives).battery['van'] ?? fitLifeModels(lives).battery['']!;

describe('many failures at one age', () => {
  it('are a steep life, not one without an answer', () => {
    const day = batteryLife({
      fittedOn: '2022-01-01',
      watchedToOn: '2024-09-27',
      removedOn: '2024-09-27',
      end: 'failure',
    });
    const model = battery(Array.from({ length: 300 }, (_, k) => ({ ...day, unit: `U${k}` })));
    expect(model.best.shape).toBeGreaterThan(LIFE_PRIOR.battery.shape);
    // 1,000 days from 1 January 2022 to 27 September 2024.
    expect(Math.abs(model.best.scale / 1000 - 1)).toBeLessThan(0.15);
    expect(model.weight.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 9);
  });
});

describe('the ladder of evidence', () => {
  it('without any life says what the prior says, and says that it does', () => {
    const model = fitLifeModels([]).battery['']!;
    expect(model.rung).toBe('prior');
    expect(model.best.scale).toBeCloseTo(LIFE_PRIOR.battery.scaleDays, -1);
    expect(model.best.shape).toBeCloseTo(LIFE_PRIOR.battery.shape, 1);
  });

  it('climbs with the failures that were seen', () => {
    const lives = simulated(400, { shape: 3, scale: 1500, seed: 1 });
    const failures = lives.filter((life) => life.end === 'failure');
    const rest = lives.filter((life) => life.end !== 'failure').slice(0, 40);
    expect(battery([...failures.slice(0, 5), ...rest]).rung).toBe('pooled_shape');
    expect(battery([...failures.slice(0, 20), ...rest]).rung).toBe('own_scale');
    expect(battery([...failures.slice(0, 50), ...rest]).rung).toBe('own_both');
  });

  it('comes to the truth with many lives: left-truncated, right-censored (simulated, shape 3, scale 1500)', () => {
    const model = battery(simulated(3000, { shape: 3, scale: 1500, seed: 2 }));
    expect(model.best.shape).toBeGreaterThan(2.7);
    expect(model.best.shape).toBeLessThan(3.3);
    expect(Math.abs(model.best.scale / 1500 - 1)).toBeLessThan(0.04);
  });

  it('is wider with five failures than with fifty', () => {
    const spread = ({ scale, weight }: LifeModel) => {
      const mean = scale.reduce((sum, value, k) => sum + weight[k]! * Math.log(value), 0);
      return Math.sqrt(scale.reduce((sum, value, k) => sum + weight[k]! * (Math.log(value) - mean) ** 2, 0));
    };
    const lives = simulated(400, { shape: 3, scale: 1500, seed: 3 });
    expect(spread(fitLifeModels(lives.slice(0, 15)).battery['']!)).toBeGreaterThan(
      1.5 * spread(fitLifeModels(lives).battery['']!),
    );
  });

  it('reports the observed median (Kaplan–Meier with delayed entry) near the true one, 1327 days', () => {
    const model = battery(simulated(3000, { shape: 3, scale: 1500, seed: 4 }));
    expect(Math.abs(model.medianDays! - 1500 * Math.LN2 ** (1 / 3))).toBeLessThan(60);
  });
});

describe('classes under what the others say', () => {
  const of = (name: string, lives: readonly ClassedLife[]) => lives.map((life) => ({ ...life, class: name }));
  const long = of('coach', simulated(500, { shape: 3, scale: 2200, seed: 6 }));
  const short = of('van', simulated(500, { shape: 3, scale: 1100, seed: 7 }));

  it('keep a life of their own where it was seen', () => {
    const { battery: models } = fitLifeModels([...long, ...short]);
    expect(Math.abs(models['coach']!.best.scale / 2200 - 1)).toBeLessThan(0.1);
    expect(Math.abs(models['van']!.best.scale / 1100 - 1)).toBeLessThan(0.1);
  });

  it('take it from the others where nothing failed of theirs', () => {
    const none = of(
      'digger',
      simulated(400, { shape: 3, scale: 1100, seed: 8 })
        .filter((life) => life.end === 'in_service')
        .slice(0, 4),
    );
    const beside = (lives: ClassedLife[]) => fitLifeModels([...lives, ...none]).battery['digger']!.best.scale;
    // Twice as long in truth; the prior and what its own four survived draw the two together (measured 1.36).
    expect(beside(long)).toBeGreaterThan(1.25 * beside(short));
  });

  it('alone do not count their own failures twice: the spread is that of a fit under the prior and the departure', () => {
    const lives = short.slice(0, 40);
    const { battery: models } = fitLifeModels(lives);
    const spread = ({ scale, weight }: LifeModel) => {
      const mean = scale.reduce((sum, value, k) => sum + weight[k]! * Math.log(value), 0);
      return Math.sqrt(scale.reduce((sum, value, k) => sum + weight[k]! * (Math.log(value) - mean) ** 2, 0));
    };
    expect(spread(models['van']!)).toBeGreaterThan(spread(models['']!));
  });

  it('know of a failure only that it came after the last good crank', () => {
    const late = short.map((life) => (life.end === 'failure' ? { ...life, failedAfterOn: life.watchedFromOn } : life));
    const early = short.map((life) => {
      const day = dayNumber(life.watchedToOn) - 300;
      return life.end === 'failure' && day > dayNumber(life.watchedFromOn)
        ? { ...life, failedAfterOn: dateOf(day) }
        : life;
    });
    const scaleOf = (lives: ClassedLife[]) => battery(lives).best.scale;
    expect(scaleOf(early)).toBeLessThan(0.99 * scaleOf(short));
    expect(scaleOf(late)).toBeLessThan(0.99 * scaleOf(short));
  });
});

describe('survival from the life model', () => {
  const node = (shape: number, scale: number): LifeModel => ({
    best: { shape, scale },
    meanDays: scale,
    shape: [shape],
    scale: [scale],
    weight: [1],
    events: 0,
    lives: 0,
    rung: 'prior',
    medianDays: null,
  });

  it('with shape 1 has no memory: e^(−t/scale) at any age', () => {
    for (const age of [0, 500, 3000]) {
      const survival = lifeSurvival(node(1, 1000), known(age));
      SURVIVAL_DAYS.forEach((t, k) => expect(survival[k]).toBeCloseTo(Math.exp(-t / 1000), 10));
    }
  });

  it('gives the worked conditional: shape 2.5, scale 1000, age 600: P(30) 0.0355283, P(90) 0.1100799', () => {
    // Computed with R: 1 − exp(H(600) − H(630)), and 690.
    const survival = lifeSurvival(node(2.5, 1000), known(600));
    expect(failureProbability(survival, 28)).toBeLessThan(0.0355283);
    expect(failureProbability(survival, 35)).toBeGreaterThan(0.0355283);
    expect(failureProbability(survival, 90)).toBeCloseTo(0.1100799, 3);
  });

  it('never promises an older part longer, where wear goes up with age', () => {
    const model = battery(simulated(300, { shape: 3, scale: 1500, seed: 5 }));
    for (const t of [30, 90, 365]) {
      const chances = [0, 300, 700, 1200, 1800].map((age) => failureProbability(lifeSurvival(model, known(age)), t));
      expect(chances).toEqual([...chances].sort((a, b) => a - b));
    }
  });

  it('takes the part of a young unit for its first one, as likely as first parts last so long', () => {
    const life = { shape: 3, scale: 2400 };
    const { age, weight } = agesWhenMet(life, 900);
    expect(age.at(-1)).toBe(900);
    // S(900) = e^(−(900/2400)³) = 0.949; renewals hardly begin by then.
    expect(weight.at(-1)).toBeGreaterThan(0.93);
    expect(weight.at(-1)).toBeLessThan(0.97);
    // In an old fleet hardly any is the first: ages as those of a renewal process at rest.
    expect(agesWhenMet(life, 20_000).age.at(-1)).toBeLessThan(4000);
  });

  it('does not take a part of unknown age for a new one', () => {
    const model = node(3, 1500);
    const met = agesWhenMet(model.best, 4000);
    const unknown = failureProbability(lifeSurvival(model, met), 365);
    expect(unknown).toBeGreaterThan(failureProbability(lifeSurvival(model, known(15)), 365) * 3);
    const mean = (nodes: typeof met) => nodes.age.reduce((sum, age, k) => sum + age * nodes.weight[k]!, 0);
    expect(mean(agesNow(met, 400, model.best))).toBeLessThan(mean(met) + 400);
    expect(agesNow(met, 400, model.best).weight.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 12);
  });
});
