import type { Words } from './repair-wording.ts';

/** Work that has nothing to do with cranking, and some that only sounds like it. `code` is the fleet's own scheme. */
export type UnrelatedWork = Words & { code: string; hours: number; parts: number };

function work(
  code: string,
  texts: readonly [string, string, string],
  cost: readonly [hours: number, parts: number],
): UnrelatedWork {
  return { code, complaint: texts[0], cause: texts[1], correction: texts[2], hours: cost[0], parts: cost[1] };
}

export const ORDINARY_WORK: readonly UnrelatedWork[] = [
  work('1300', ['brakes squeal', 'front pads worn', 'replaced front brake pads'], [2.5, 160]),
  work('1300', ['air leak at rear', 'brake chamber diaphragm', 'replaced brake chamber'], [2, 95]),
  work('1300', ['park brake weak', 'out of adjustment', 'adjusted park brake'], [1, 0]),
  work('1300', ['abs light on', 'wheel speed sensor', 'replaced sensor, cleared code'], [1.5, 85]),
  work('1700', ['flat tyre', 'nail in tread', 'repaired tyre'], [0.8, 12]),
  work('1700', ['tyres worn', 'below limit', 'replaced two drive tyres'], [1.5, 720]),
  work('1700', ['vibration at speed', 'wheel out of balance', 'balanced front wheels'], [1, 8]),
  work('1500', ['pulls to left', 'tie rod end worn', 'replaced tie rod end, aligned'], [3, 130]),
  work('1600', ['rough ride', 'air bag leaking', 'replaced rear air bag'], [2.5, 240]),
  work('2600', ['gear change hard', 'clutch worn', 'replaced clutch'], [9, 880]),
  work('2700', ['transmission shifts late', 'low fluid', 'topped up, checked for leaks'], [1, 30]),
  work('4200', ['coolant loss', 'hose leaking', 'replaced radiator hose'], [1.5, 45]),
  work('4200', ['runs hot', 'fan clutch slipping', 'replaced fan clutch'], [3, 310]),
  work('4300', ['smoke from exhaust', 'clamp loose', 'tightened exhaust clamp'], [0.6, 6]),
  work('4300', ['regen light on', 'filter loaded', 'forced regeneration'], [2, 0]),
  work('4400', ['lack of power', 'fuel filter blocked', 'replaced fuel filters'], [1, 60]),
  work('4500', ['oil leak under unit', 'rocker cover gasket', 'replaced gasket'], [3, 40]),
  work('4500', ['squeal at front of engine', 'fan belt worn', 'replaced fan belt'], [1.2, 55]),
  work('3400', ['headlight out', 'bulb blown', 'replaced bulb'], [0.3, 9]),
  work('3400', ['trailer lights out', 'socket corroded', 'cleaned and greased socket'], [0.8, 5]),
  work('3400', ['turn signal too fast', 'flasher relay', 'replaced flasher relay'], [0.5, 14]),
  work('3500', ['wipers slow', 'wiper motor unserviceable', 'replaced wiper motor'], [1.5, 120]),
  work('3500', ['horn dead', 'wire broken', 'repaired wire'], [0.7, 2]),
  work('0200', ['seat will not adjust', 'air valve', 'replaced seat valve'], [1.2, 48]),
  work('0200', ['door does not latch', 'striker bent', 'adjusted striker'], [0.6, 0]),
  work('0200', ['windscreen cracked', 'stone', 'replaced windscreen'], [2.5, 290]),
  work('0100', ['no heat in cab', 'heater valve stuck', 'replaced heater valve'], [1.8, 66]),
  work('0100', ['a/c weak', 'low on gas', 'recharged a/c'], [1.3, 80]),
  work('6500', ['hydraulic leak', 'hose chafed', 'replaced hydraulic hose'], [2, 110]),
  work('6500', ['bucket drifts', 'cylinder seals', 'resealed tilt cylinder'], [6, 190]),
  work('6500', ['slow lift', 'filter blocked', 'replaced hydraulic filter'], [1, 75]),
  work('7100', ['tail lift stuck', 'bent guide', 'straightened and greased guide'], [2, 0]),
  work('7100', ['rear door seal torn', 'wear', 'replaced seal'], [1, 38]),
];

/** Words that belong to cranking, work that does not. */
export const LOOK_ALIKES: readonly UnrelatedWork[] = [
  work('4500', ['pre-lube starter leaking oil', 'shaft seal', 'resealed pre-lube starter pump'], [2, 35]),
  work('4400', ['engine surges', 'fuel solenoid sticking', 'replaced fuel shut off solenoid'], [1.5, 88]),
  work('2700', ['no third gear', 'shift solenoid', 'replaced transmission shift solenoid'], [4, 140]),
  work('6500', ['boom will not lower', 'valve solenoid', 'replaced hydraulic valve solenoid'], [2, 96]),
  work('7100', ['remote control dead', 'remote batteries', 'fitted new batteries in remote control'], [0.2, 4]),
  work('0200', ['key fob weak', 'fob battery', 'replaced key fob battery'], [0.2, 3]),
  work('0200', ['battery box cover loose', 'latch broken', 'replaced latch on battery box cover'], [0.7, 18]),
  work('0100', ['blower does not start', 'blower relay', 'replaced blower relay'], [0.6, 16]),
  work('3400', ['reading light stays on', 'door switch', 'adjusted door switch'], [0.4, 0]),
  work('0200', ['wheel nuts check', 'start of shift inspection', 'torqued all'], [0.5, 0]),
];

export const SERVICE_WORK: readonly UnrelatedWork[] = [
  work('0000', ['pm service', '', 'completed pm, oil and filters'], [2.5, 140]),
  work('0000', ['service due', '', 'did service a, greased, all fluids ok'], [1.8, 90]),
  work('0000', ['service b', '', 'serviced, checked batteries and starter ok'], [3.5, 210]),
  work('0000', ['planned inspection', '', 'inspected, no faults'], [1.2, 0]),
  work('0000', ['pm', '', 'pm done, brakes 60 %, batteries tested ok'], [2.4, 130]),
];
