import type { Component } from '../model/words.ts';

/**
 * The words of the trade that tell what a repair record is about. Patterns run over one clause of `clausesOf`.
 * Common practice throughout: there is no standard for free text.
 */

/** Things that carry a starting word and have nothing to do with starting. Masked before anything else is read. */
export const LOOK_ALIKES: readonly RegExp[] = [
  /\bprelube (?:starter|start|pump|motor)(?: (?:motor|switch|solenoid|relay))?\b/g,
  /\b(?:fuel|run|shutdown|shut off|stop|down|lube|pump|dump|grease|logic|valve|hydraulic|brake|fan|transmission|gear|diff|aircon|blower|door|lift|tipper|pto)(?: \w+)? solenoid(?: valve)?\b/g,
  /\bsolenoid (?:valve|hose|relay front)\b/g,
  /\b(?:radio|phone|torch|remote|fob|key fob|drill|tablet|handset|headset|camera|tracker|trailer|tool|smoke detector|clock|scanner|laptop) battery\b/g,
  /\bbattery (?:in|of|for) (?:the )?(?:radio|phone|torch|remote|fob|key|drill|tablet|handset|headset|camera|tracker|trailer|tool|smoke|clock|scanner|laptop)(?: \w+)?\b/g,
  /\b(?:blower|heater|fan|pump|compressor|wiper|radio|generator set|genset|apu|reefer|fridge|lift|tail lift|crane|winch|mixer|auger|pto|burner|aircon|camera|computer|tablet|screen)(?: \w+)? (?:wont|will not|does not|doesnt|did not|cannot|not)(?: \w+)? start\w*/g,
  /\bbattery (?:box|tray|cover|lid|door|compartment|bracket|hold ?down|holddown|rack|charger|drill|tool)\b/g,
  /\b(?:turbo|super|charge air|slew|swing|hydraulic|boost|accumulator|nitrogen|fire \w+|suppression|aircon|gas|refrigerant)(?: \w+)? (?:charge|charged|charging|recharge|recharged|discharged|charger)\b/g,
  /\b(?:charge|charged|charging|recharge|recharged)(?: \w+){0,2} (?:aircon|fire|suppression|accumulator|nitrogen|pump|press|pressure|air|gas|line|cooler|system has)\b/g,
  /\b(?:hose|pipe|line|oil leak|cover|guard|bracket|paint)(?: \w+){0,2} (?:on|at|near|by|behind|above|under|below) (?:the )?(?:starter|battery|alternator)(?: motor)?\b/g,
  /\b(?:starter|alternator)(?: motor)? (?:leaking|hose|guard|cover|bracket|heat shield|heatshield)\b/g,
  /\b(?:oil )?leak(?:ing)? (?:on|at|near|by|from|behind) (?:the )?(?:starter|alternator)(?: motor)?\b/g,
  /\bfront crank|crank ?(?:shaft|case|pulley|seal)\b/g,
  /\blights? left on\b/g,
  /\b(?:hill|soft|kick|smooth|air) start(?:er)?(?: assist)?\b/g,
  /\bstart(?:ed|s|ing)? (?:work|pm|service|job|leaking|to leak|shift|knocking|making|smoking|overheating)\b/g,
];

/** Component words, the most specific first: the first match takes its words out of the clause. */
export const COMPONENT_WORDS: readonly { component: Component; pattern: RegExp; weight: number }[] = [
  {
    component: 'control',
    weight: 3,
    pattern:
      /\b(?:starter|start|crank|cranking) (?:relay|switch|button|interlock|inhibitor|circuit|inhibit|fuse)\b|\bignition (?:switch|key|lock|barrel|cylinder)\b|\b(?:key|ignition) switch\b|\bignition\b|\b(?:park )?neutral (?:safety |start )?switch\b|\bclutch (?:safety )?switch\b|\bimmobiliser\b|\bneutral safety\b|\binhibitor switch\b|\brange switch\b/g,
  },
  {
    component: 'cables',
    weight: 3,
    pattern:
      /\b(?:battery|starter|start|main|positive|negative|ground|earth|jumper)(?: motor)? (?:positive |negative |earth |ground )?(?:cable|lead|strap|wire|wiring|harness|clamp|clamps|terminal|post|posts|lug|lugs|connection|connector|isolator|isolation switch|disconnect switch|disconnect|link)s?\b|\b(?:earth|ground) (?:strap|braid|cable|lead)s?\b|\bcable ends?\b|\bterminal\b/g,
  },
  {
    component: 'charging',
    weight: 3,
    pattern:
      /\balternators?(?: light| lamp| belt| warning)?\b|\bbattery (?:warning )?(?:light|lamp|indicator)\b|\bvoltage regulator\b|\b(?:not |no |over |under )charg(?:e|ing)\b|\bcharging(?: system| circuit| fault| light)?\b|\bgenerator\b/g,
  },
  {
    component: 'starter',
    weight: 3,
    pattern:
      /\b(?:starter|starting|start|st|cranking) (?:motor|solenoid)s?(?: solenoid| brush(?:es)?)?\b|\bstarter\b|\bstart (?:brush(?:es)?|unserviceable|worn|dead spot|contacts)\b|\b(?:replaced?|fitted|new|reman|exchange|changeout|changed|bad|repaired|tested) (?:out )?(?:new |reman |exchange )?(?:start|str)\b|\bbendix\b|\bstarter drive\b|\bpinion\b(?= .*\bstart)|\bbrush(?:es)?\b(?= .*\bstart)/g,
  },
  { component: 'battery', weight: 3, pattern: /\bbattery\b|\bcells? (?:dead|shorted|dry)\b/g },
];

/** A solenoid in a clause that speaks of starting or cranking is the starter's; elsewhere it is anybody's. */
export const BARE_SOLENOID = /\bsolenoid\b/g;
export const STARTING_CONTEXT = /\b(?:start|starting|crank|cranks|cranking|click|clicks|clicking|starter)\b/;

export const JUMP_START =
  /\bjump (?:start|starts|started|starting|pack|leads?|off|up)\w*\b|\bjump(?:ed|ing)\b(?! (?:out|over|timing|gear|track))|^(?:was |got )?boosted\b|\bboost(?:ed)? (?:start|battery|off|unit|truck|engine|machine)\b|\bslave[d]? start/;

export const NO_START =
  /\b(?:wont|will not|would not|wouldnt|cant|cannot|not|didnt|did not|doesnt|does not|fail(?:s|ed)? to|unable to|never|refuses to)(?: \w+)? (?:start|re ?start|crank|turn over|turn|fire up|fire|kick over)\w*(?! signal| left| right)\b|\bno (?:re)?start\b|\bno crank\b|\bnon start(?:er)?\b|\bhard (?:to )?start(?:ing)?\b|\b(?:slow|lazy|weak)(?: to)? (?:crank|start|turn)\w*\b|\bcrank(?:s|ing)? slow\w*\b|\bstarting (?:fault|problem|issue|trouble|difficult\w*)\b|\bdifficult to start\b|\b(?:just |only )?click(?:s|ing)?(?: only| when| but| no)\b|\bclick no crank\b|\bdead (?:in|at|on) (?:yard|stand|depot|road|site)\b/;

export const FLAT_BATTERY =
  /\b(?:flat|dead|discharged|drained|low)(?: \w+)? battery\b|\bbattery(?: \w+){0,2} (?:flat|dead|low|discharged|drained|gone)\b/;

/** What was done, the strongest first. `weight` breaks a tie within a clause. */
export const ACTION_WORDS: readonly { event: 'replaced' | 'repaired' | 'inspected'; pattern: RegExp }[] = [
  {
    event: 'replaced',
    pattern:
      /\breplac(?:e|ed|es|ing|ement)\b|\bchange(?:d|s|out|over)?\b|\bchanging\b|\brenew(?:ed)?\b|\bswap(?:ped|s)?\b|\b(?:re)?new\b|\bfit(?:ted)?\b(?! tight)|\binstall(?:ed)?\b|\bexchange[d]?\b|\breman\b|\bsupply\b/,
  },
  {
    event: 'repaired',
    pattern:
      /\brepair(?:s|ed|ing)?\b|\bfix(?:ed)?\b|\brebuil[dt]\b|\boverhaul(?:ed)?\b|\bclean(?:ed)?\b|\btighten(?:ed)?\b|\bretighten(?:ed)?\b|\btightened\b|\bre ?terminat\w*\b|\badjust(?:ed)?\b|\brewir\w*\b|\bsecur(?:e|ed)\b|\brefit(?:ted)?\b|\breset\b|\bcharged\b|\bcharge\b|\brecharg\w*\b|\btopped? up\b/,
  },
  {
    event: 'inspected',
    pattern:
      /\bcheck(?:ed|s)?\b|\btest(?:ed|s)?\b|\binspect(?:ed|ion)?\b|\bload test\w*\b|\bmeasur\w*\b|\bdiagnos\w*\b|\binvestigat\w*\b|\btrouble ?shoot\w*\b|\blook at\b/,
  },
];

/** Something was done, and not to this part: "battery ok", "batteries tested good", "not the starter". */
export const CLEARED =
  /\b(?:ok|okay|good|fine|serviceable|healthy|passed|pass|within spec|no fault|no fault found|not (?:the )?(?:problem|fault|cause))\b/;
export const NOT_DONE =
  /\b(?:not|no need to|didnt|did not|without|declined|awaiting|await|needs?|required|recommend(?:ed)?|order(?:ed)?|quote|on order|due for) (?:to )?(?:be )?(?:replac\w*|chang\w*|fit\w*|repair\w*|new)\b|\bnot (?:the )?(?:battery|starter|alternator)\b|\b(?:replac\w*|chang\w*) (?:not )?(?:required|needed|next time|declined)\b/;

/** Signs that the work was not planned. */
export const FAULT_WORDS =
  /\bunserviceable\b|\bfail(?:ed|s|ure|ing)?\b|\bfault(?:y)?\b|\bdead\b|\bflat\b|\bburnt?(?: out)?\b|\bbroken?\b|\bbroke(?: down)?\b|\bdamag\w*\b|\bshort(?:ed)?\b|\bseized\b|\bstuck\b|\bstick(?:ing)?\b|\bgrind\w*\b|\bnois[ey]\b|\bworn(?: out)?\b|\bcracked\b|\bswollen\b|\bbulg\w*\b|\bleaking\b|\bslow\b|\bweak\b|\bintermittent\b|\bdefective\b|\bno good\b|\bbad\b|\btow(?:ed)?\b|\broad ?(?:call|side)\b|\bbreakdown\b|\bstranded\b|\bwont hold\b|\bclick\w*\b|\bgone\b/;
/** Signs of a failure on the road or in the yard, which no planned visit explains away. */
export const STRANDED_WORDS = /\btow(?:ed|ing)?\b|\broad ?(?:call|side)\b|\bbreakdown\b|\bstranded\b|\brecovery\b/;
/** Signs that the work was planned; "due to", "out of service" and the like are none. */
export const PLANNED_WORDS =
  /\b(?:planned|scheduled|preventive|preventative|preventively|proactive|proactively|precaution\w*|campaign|routine|pms?|pmi|annual|time based|life expired|aged? out|end of life|(?:on|by) age|programme|program|upgrade)\b|\bdue\b(?! to\b)|(?<!out of |in |into |back to |return to |return to |tyre )\bservice\b(?! (?:call|truck|brake|van))/;

export const POSITION_WORDS: readonly { position: string; pattern: RegExp }[] = [
  { position: 'left', pattern: /\bleft\b(?! (?:on|in|running|open|at|with|it|over|unit|key)\b)/ },
  { position: 'right', pattern: /\bright\b/ },
  { position: 'front', pattern: /\bfront (?:engine|motor|starter|battery)\b/ },
  { position: 'rear', pattern: /\b(?:rear|back) (?:engine|motor|starter|battery)\b/ },
];
