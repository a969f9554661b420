/**
 * The bench and on-vehicle tests with their unit and what they should read. The values are trade facts; each carries
 * its source. "Common practice" and "from memory" mean that no document was read for it.
 */
export type BenchTest = {
  test: string;
  where: 'vehicle' | 'bench';
  unitOfMeasure: string;
  /** What it tells, and how it is done. */
  how: string;
  expected12: string;
  expected24: string;
  source: string;
};

/** Rested open-circuit volts of a flooded 12 V battery by state of charge. TM 5-3805-262-20 p. 5-142. */
export const OPEN_CIRCUIT_VOLTS: readonly { charge: number; volts: number }[] = [
  { charge: 1, volts: 12.6 },
  { charge: 0.75, volts: 12.4 },
  { charge: 0.5, volts: 12.2 },
  { charge: 0.25, volts: 12 },
  { charge: 0, volts: 11.7 },
];

/**
 * Least volts of a 12 V battery at the end of 15 s at half its cold cranking amps, by the battery's temperature.
 * The same table stands in four vehicle manuals; sources agree within 0.1 V, at −18 °C within 0.5 V.
 */
export const LOAD_TEST_VOLTS: readonly { tempC: number; volts: number }[] = [
  { tempC: 20, volts: 9.6 },
  { tempC: 16, volts: 9.5 },
  { tempC: 10, volts: 9.4 },
  { tempC: 4, volts: 9.3 },
  { tempC: -1, volts: 9.1 },
  { tempC: -7, volts: 8.9 },
  { tempC: -12, volts: 8.7 },
  { tempC: -18, volts: 8.5 },
];

/** `≥ 9.6 V at 20 °C or warmer, 9.5 at 16, …`: the table above in words, for a 12 V battery. */
export function loadTestWords(): string {
  const [warmest, ...colder] = LOAD_TEST_VOLTS;
  const rest = colder.map(({ tempC, volts }) => `${volts.toFixed(1)} at ${tempC} °C`).join(', ');
  return `at least ${warmest!.volts} V at ${warmest!.tempC} °C or warmer, ${rest}`;
}

const chargeWords = OPEN_CIRCUIT_VOLTS.map(({ charge, volts }) => `${volts.toFixed(1)} V = ${charge * 100} %`).join(
  ', ',
);
const eachOfTwo = (words: string) => `each of the two batteries: ${words}`;

export const BENCH_TESTS: readonly BenchTest[] = [
  {
    test: 'open_circuit_voltage',
    where: 'vehicle',
    unitOfMeasure: 'V',
    how: 'battery posts, everything off, hours after charging; tells the charge, not the health',
    expected12: `flooded: ${chargeWords}; read it as a band of 0.1 V`,
    expected24: eachOfTwo(`flooded: ${chargeWords}`),
    source: 'TM 5-3805-262-20 p. 5-142',
  },
  {
    test: 'load_test_voltage',
    where: 'vehicle',
    unitOfMeasure: 'V',
    how: 'charged battery under half its cold cranking amps for 15 s, read before the load comes off',
    expected12: loadTestWords(),
    expected24: eachOfTwo(loadTestWords()),
    source: 'the same table in four vehicle manuals',
  },
  {
    test: 'cold_cranking_amps',
    where: 'bench',
    unitOfMeasure: 'A',
    how: 'conductance tester on the charged, rested battery; compare with the rating on its label',
    expected12: 'at least 80 % of the rating; below 60 % worn out',
    expected24: eachOfTwo('at least 80 % of the rating; below 60 % worn out'),
    source: 'from memory: worn out below 60 to 80 % of rated',
  },
  {
    test: 'charging_voltage',
    where: 'vehicle',
    unitOfMeasure: 'V',
    how: 'battery posts, engine at a fast idle, loads off',
    expected12: '13.8 to 14.7 V',
    expected24: '27.6 to 29.4 V',
    source: 'common practice',
  },
  {
    test: 'cranking_voltage',
    where: 'vehicle',
    unitOfMeasure: 'V',
    how: 'battery posts during a 15 s crank with the engine kept from firing, at 21 to 27 °C',
    expected12: 'at least 9.6 V; less: battery or its connections; at or over it and slow: measure the draw',
    expected24: 'at least 18 V',
    source: 'TM 10-3930-671-24 F-299/300; TM 9-2320-211-20 for 24 V',
  },
  {
    test: 'voltage_drop_positive',
    where: 'vehicle',
    unitOfMeasure: 'V',
    how: 'battery + to the solenoid’s battery terminal while cranking',
    expected12: 'at most 0.5 V',
    expected24: 'at most 1.0 V',
    source: 'TM 5-3895-382-24 table 30',
  },
  {
    test: 'voltage_drop_ground',
    where: 'vehicle',
    unitOfMeasure: 'V',
    how: 'battery − to the starter’s body while cranking',
    expected12: 'at most 0.7 V',
    expected24: 'at most 1.4 V',
    source: 'TM 5-3895-382-24 table 30',
  },
  {
    test: 'voltage_drop_contacts',
    where: 'vehicle',
    unitOfMeasure: 'V',
    how: 'across the solenoid’s two main terminals while cranking: burned contacts drop more',
    expected12: 'at most 0.4 V',
    expected24: 'at most 0.8 V',
    source: 'from memory',
  },
  {
    test: 'control_terminal_voltage',
    where: 'vehicle',
    unitOfMeasure: 'V',
    how: 'solenoid’s control terminal to ground while the start is held',
    expected12:
      'battery volts, at most 1.0 V less; battery volts and nothing turns: starter or solenoid; none: upstream',
    expected24:
      'battery volts, at most 2.0 V less; battery volts and nothing turns: starter or solenoid; none: upstream',
    source: 'TM 5-3895-383-24 p. 6-96; TM 5-2420-230-24-2',
  },
  {
    test: 'motor_terminal_voltage',
    where: 'vehicle',
    unitOfMeasure: 'V',
    how: 'starter’s motor terminal to ground while the solenoid is heard to work',
    expected12: 'near battery volts; none: solenoid contacts; battery volts and no turning: motor or its ground',
    expected24: 'near battery volts; none: solenoid contacts; battery volts and no turning: motor or its ground',
    source: 'common practice as taught in service manuals',
  },
  {
    test: 'starter_current_draw',
    where: 'vehicle',
    unitOfMeasure: 'A',
    how: 'clamp around the starter’s cable while cranking; low and slow: circuit resistance; high and slow: drag',
    expected12: 'against the same model’s usual draw; no-load on the bench at most 90 A for a 1.4 kW car starter',
    expected24: 'at most 300 A on a petrol 5-ton truck; else against the same model’s usual draw',
    source: 'TM 10-3930-671-24 F-299/300; TM 9-2320-211-20',
  },
  {
    test: 'solenoid_winding_resistance',
    where: 'bench',
    unitOfMeasure: 'Ω',
    how: 'control terminal to body (hold-in) and to motor terminal (pull-in); varies by type and is always low',
    expected12: 'hold-in 0.5 to 1.0 Ω (heavy frames 0.53 to 0.77), pull-in 0.13 to 0.20 Ω',
    expected24: 'hold-in of heavy frames 1.5 to 3.3 Ω',
    source: 'service manuals for car frames; TM 5-2420-230-24-2 for heavy frames',
  },
  {
    test: 'main_contact_continuity',
    where: 'bench',
    unitOfMeasure: 'Ω',
    how: 'between the two main terminals with the plunger pushed in',
    expected12: 'continuity, about 0 Ω; else the contacts are burned',
    expected24: 'continuity, about 0 Ω; else the contacts are burned',
    source: 'common practice',
  },
  {
    test: 'brush_length',
    where: 'bench',
    unitOfMeasure: 'mm',
    how: 'starter opened; brushes wear, the set can be replaced alone',
    expected12: 'at least the maker’s wear limit, often half of new',
    expected24: 'at least the maker’s wear limit, often half of new',
    source: 'common practice',
  },
  {
    test: 'armature_insulation',
    where: 'bench',
    unitOfMeasure: 'Ω',
    how: 'commutator to shaft on a range of 10 MΩ',
    expected12: 'no reading; any reading: replace the whole starter',
    expected24: 'no reading; any reading: replace the whole starter',
    source: 'common practice',
  },
  {
    test: 'parasitic_drain',
    where: 'vehicle',
    unitOfMeasure: 'mA',
    how: 'in series at the battery’s ground, everything off and asleep; 50 mA empty 28.8 Ah in 24 days',
    expected12: 'at most 50 mA',
    expected24: 'at most 50 mA',
    source: 'service texts',
  },
];

export function benchTest(test: string): BenchTest {
  const found = BENCH_TESTS.find((each) => each.test === test);
  if (found === undefined) throw new RangeError(`bench test requires a listed name, got ${test} (BENCH_TESTS)`);
  return found;
}
