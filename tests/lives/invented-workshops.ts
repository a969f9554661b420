/**
 * Repair records of twelve invented workshops, labelled before the reader saw them: terse codes, dictation, English as a
 * second language, parts lists, warranty texts, wrong parts fitted first, portals' boilerplate, two engines.
 */
export const WORKSHOP_RECORDS: readonly [string, string][] = [
  ['truck wont start with trailer attached', 'none no_start'],
  ['truck battery dead from liftgate use | | jumped', 'battery jump_started'],
  ['no start, reefer running fine | | replaced starter', 'starter replaced'],
  ['apu wont start, truck wont start | | replaced truck batteries', 'battery replaced'],
  ['unit wont crank. apu starter bad as well | | replaced battery', 'battery replaced'],
  ['no crank no start | BCM not waking, reprogrammed | cranks now', 'control repaired'],
  ['no crank, gearbox does not show neutral | | replaced range sensor', 'control replaced'],
  [
    'Starter lockout on body controller, door interlock | | Adjusted door interlock switch, starts ok',
    'control repaired',
  ],
  ['immobilizer no know key | | teach key again', 'control repaired'],
  ["clutch sw adj, no crnk | | adj'd clutch sw", 'control repaired'],
  ['engine turn slow | starter take 900 ampere | put overhaul starter', 'starter replaced'],
  ['no start | relay of start is broken | new relay 24V montaged', 'control replaced'],
  ['the starter do not turn | cable of mass was oxidate | cleaned mass point, now good', 'cables repaired'],
  ['no start | switch of gear neutral dirty | switch cleaned and greased', 'control repaired'],
  ['no power at all | main switch of battery burned | main switch battery new', 'cables replaced'],
  ['jump start | temp -15 | tell driver buy new battery soon', 'battery jump_started'],
  ['does not crank | solenoid hanging | solenoid changed', 'starter replaced'],
  ['cranks no start | fuel solenoid | solenoid changed', 'none no_start'],
  ['altenator not chargeing | | rep altenator', 'charging replaced'],
  ['RH starter replaced, LH starter tested serviceable', 'starter replaced right'],
  ['left eng no start | | replaced left battery. right batteries tested ok', 'battery replaced left'],
  ['port & stbd start batteries renewed', 'battery replaced left; battery replaced right'],
  [
    'PM checklist | | [x] clean battery terminals [x] load test batteries [ ] replace cabin filter',
    'cables repaired planned; battery inspected',
  ],
  ['Stbd engine wont crank | | fitted new starter', 'starter replaced right'],
];

export const WORKSHOP_OTHERS: readonly string[] = [
  'reefer wont start | | replaced starter',
  'Fridge unit wont start | | Fridge starter motor replaced',
  'trailer battery flat | | charged battery',
  'bow thruster battery bank dead | | replaced thruster batteries',
  'Wipers do not start when switch is turned on | | Replaced wiper motor',
  'start button of wiper washer broken | | new button',
  'Engine swap: removed engine, moved starter, alternator and harness to reman engine',
  'Install dash cam, draws from battery | | installed, fused at battery',
  'tool | | jump pack for service truck',
  'Service bulletin: check torque of battery cable nuts at starter | | Torque checked, all to spec',
  'special tools: starter removal socket purchase',
  'Hybrid drive battery fan | | fan cleaned',
  'remote battery for trailer ABS | | BATTERY, TRAILER BREAKAWAY 12V 5AH',
  'PM | | [ ] batteries replaced [x] lube',
  'AED unit battery pack exp | | replaced pack',
];
