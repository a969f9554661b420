/**
 * Words that carry a starting word and have nothing to do with starting. Patterns run over one clause of `clausesOf`.
 * Common practice throughout: there is no standard for free text.
 */

/** What carries a battery of its own, other than the machines below. */
const DEVICES =
  'buzzer|bell|intercom|sounder|detector|display|console|(?:hand ?held |hh )?radio|tacho(?:graph)?|remote control|controller|handheld|instrument|e ?pto|strobe|lock|phone|torch|flashlight|remote|fob|key|drill|tablet|handset|headset|camera|dash ?cam|tracker|trailer|tool|smoke(?: detector)?|clock|scanner|scan tool|laptop|pager|beacon|calculator|ups|alarm|siren|megaphone|emergency light|exit light|lift truck|forklift|memory|backup|meter|multimeter|tester|gauge|thermometer|(?:toll|smart|asset|parking) tag|fare ?box|validator|ticket machine|aed|defibrillator|stretcher|cot|wheelchair|power chair|scooter|sensor|tpms|logging device|eld|gps|modem|router|walkie|gate|fence|energi[sz]er|solar|message board|arrow board|sign|house|sleeper|leisure|inverter|liftgate|lift gate|ramp|winch|windlass|thruster|pump|locator|breakaway(?: switch)?';

/** The single words among them that are long enough to be known misspelt. */
export const DEVICE_WORDS: readonly string[] = DEVICES.match(/[a-z]{5,}/g)!;

/** What is switched on and "does not start", or has a starting button, without being the unit's engine. */
const DRIVEN =
  'packer|bin lift|hopper|ejector|compactor|crusher|shredder|chipper|lift arm|hoist|blower|heater|fan|pump|compressor|wiper|washer|radio|generator set|genset|apu|reefer|fridge|freezer|chiller|lift|tail lift|crane|winch|windlass|thruster|mixer|auger|pto|burner|aircon|camera|computer|tablet|screen|plow|spreader|controller|(?:ticket|vending|card) machine|printer|validator';

/** What drives an electric or hybrid vehicle, or feeds its mains. */
const TRACTION = 'generator|traction|hybrid|propulsion|hv|ev|high volt\\w*|[2-9]\\d\\dv';

/** Masked before anything else is read. */
export const LOOK_ALIKES: readonly RegExp[] = [
  /\bprelube (?:starter|start|pump|motor)(?: (?:motor|switch|solenoid|relay))?\b/g,
  /\b(?:fuel|run|shutdown|shut off|stop|down|lube|pump|dump|grease|logic|valve|hydraulic|brake|fan|transmission|gear|diff|aircon|blower|door|lift|tipper|pto)(?: \w+)? solenoid(?: valve)?\b/g,
  /\b(?:grease|lube|oil|fuel|hydraulic|water|air|vacuum|blower|fan)(?: (?:pump|compressor|motor|fan))? starter\b|(?<!starter )\bmotor starter\b/g,
  /\bsolenoid (?:valve|hose|relay front)\b/g,
  new RegExp(
    `\\b(?:${DEVICES}|${TRACTION})s?(?: (?:unit|drive|system|charger))?(?: (?:dead|flat|low|new|lithium|traction))? battery(?: (?:pack|module|cooling|fan|filter)s?)*\\b`,
    'g',
  ),
  /\bbattery (?:powered|operated|backup|saver)\b|\bnew (?:battery )?(?:tray|box|lid|cover|bracket|rack)\b/g,
  /\b(?:pull|recoil|rope) starter\b|\bstarter (?:cord|rope|handle)\b/g,
  new RegExp(`\\bbattery (?:in|of|for|inside) (?:\\w+ ){0,3}(?:${DEVICES})(?: (?!\\w*start)\\w+)?\\b`, 'g'),
  new RegExp(
    `\\b(?:${DRIVEN})s?(?: \\w+)? (?:wont|will not|do not|dont|does not|doesnt|did not|cannot|not)(?: \\w+)? start\\w*`,
    'g',
  ),
  new RegExp(
    `\\bstart(?:ing|er)? (?:button|switch|relay|motor|fuse) (?:of|for|on) (?:the )?(?:\\w+ )?(?:${DRIVEN})s?\\b`,
    'g',
  ),
  new RegExp(`\\b(?:${DRIVEN})s? (?:start(?:ing|er)? (?:button|switch|relay|motor|fuse|battery)|starter)\\b`, 'g'),
  /\b(?:fused|wired|powered|hooked|draws?|drawing|fed)(?: up)? (?:direct(?:ly)? )?(?:at|to|from|off|into|by) (?:the )?battery\b/g,
  /\bstarter (?:removal |installation )?(?:socket|wrench|spanner|tool)s?\b|\bprelube(?: \w+)? for (?:the )?starter\b/g,
  /\bjump(?:er)? leads?(?: set)? for\b|\bjump(?:er)? (?:box|pack|starter|cables?) for (?:the )?(?:service|shop|yard|road|stock|stores|van|new|unit|truck)\b/g,
  /\b(?:\d ?v|aaa?|button|coin|cr ?\d{4}|lr ?\d+|alkaline)(?: cell)? battery\b|\bbattery electric\b/g,
  /\b(?:wireless|phone|usb|mobile) charg\w+\b|\bcharging (?:pad|port|station|point|cable|lead)\b/g,
  /\b(?:table|wheel|steering|drum|cutter|rotor|mixer|auger|blower|fan|beacon|slew|swing|broom|brush|conveyor|pump|wiper|hydraulic)(?: motor)? (?:wont|will not|does not|doesnt|not) turn\w*/g,
  /\bbattery (?:box|tray|cage|cover|lid|door|compartment|bracket|hold ?down|holddown|rack|hatch|charger|drill|tool|tender|maintainer|minder|monitor|blanket|warmer|heater|tester|(?:temp\w* )?sensor|decal|sticker|label)(?:e?s)?\b/g,
  /\b(?:turbo|super|charge air|slew|swing|hydraulic|boost|accumulator|nitrogen|fire \w+|suppression|aircon|gas|refrigerant)(?: \w+)? (?:charge|charged|charging|recharge|recharged|discharged|charger)\b/g,
  /\b(?:charge|charged|charging|recharge|recharged)(?: \w+){0,2} (?:aircon|fire|suppression|accumulator|nitrogen|pump|press|pressure|air|gas|line|cooler|system has)\b/g,
  /\b(?:hose|pipe|line|oil leak|cover|guard|bracket|paint)(?: \w+){0,2} (?:on|at|near|by|behind|above|under|below) (?:the )?(?:starter|battery|alternator)(?: motor)?\b/g,
  /\b(?:starter|alternator)(?: motor)? (?:leaking|hose|guard|cover|bracket|heat shield|heatshield)\b/g,
  /\b(?:oil )?leak(?:ing)? (?:on|at|near|by|from|behind) (?:the )?(?:starter|alternator)(?: motor)?\b/g,
  /\bfront crank|crank ?(?:shaft|case|pulley|seal)\b/g,
  /\blights? left on\b/g,
  /\b(?:hill|soft|kick|smooth|air) start(?:er)?(?: assist)?\b/g,
  /\bstart(?:ed|s|ing)? (?:work|pm|service|job|leaking|to leak|shift|knocking|making|smoking|overheating)\b/g,
  /\bignition (?:coil|lead|cable|module|timing|wire|distributor|plug)s?\b/g,
  /\bjump(?:ed|ing|s)? (?:time|timing|curb|kerb|track|gear|chain|teeth|tooth|out of|off (?:the )?(?:belt|road|track))\b/g,
  /\b(?:heat shield|loom|clip|harness clip|splash guard)(?: \w+){0,2} (?:on|at|near|by|behind|above|under|below) (?:the )?(?:starter|battery|alternator)(?: motor)?\b/g,
  /\b(?:removed?|dropped|moved|replaced|r and i) (?:the )?(?:starter|battery|alternator)(?: motor)? (?:to|for) (?:gain )?(?:access|replace|repair|change|reach|get|allow|weld\w*|install|fit)\b/g,
  /\b(?:reinstall\w*|re ?fitted|put back) (?:the )?(?:same |old )?(?:starter|battery|alternator)(?: motor)?\b/g,
  /(?<=\b(?:starter|battery|alternator)(?: motor)? (?:was |were )?(?:disconnected|isolated|removed) )for (?!(?:charg|test|overhaul|rebuil|repair|replac|service|recharg|load|bench))\w+(?: \w+)?\b/g,
  /\b(?:after|before|during|following) (?!(?:battery|starter|alternator)\b)\w+ (?:repair|replacement|overhaul|rebuild|change|job)\b/g,
  /\b(?:under|behind|near|beside|above|below|next to) (?:the )?(?:starter|battery|alternator)(?: motor)?\b/g,
  /\b(?:instead of|in place of|in lieu of|rather than)(?: (?:replac|chang|fit|renew|repair|chang|install|buy)\w*)? (?:the |a |an )?(?:new )?(?:starter|battery|alternator)(?: motor)?\b/g,
  /\bremote start(?:er)?(?: (?:kit|system|module|unit))?\b/g,
  /\b(?:blade|pto|aircon|ac|fan|electric|compressor) clutch(?: \w+)? switch\b/g,
  /\b(?:issued|bought|purchased|supplied|missing|new) (?:\w+ ){0,2}jumper (?:cable|lead)\b|\bjumper (?:cable|lead) (?:issued|bought|purchased|supplied|missing)\b/g,
  /\b(?:starter|battery|alternator)(?: motor)? (?:was |were )?(?:removed?|dropped|off|out|pulled) (?:to|for) (?:gain )?(?:access|replace|repair|change|reach|get|allow|weld\w*|install|fit)\b/g,
  /\bcore (?:charge|deposit|return|credit)s?\b/g,
  /\bjump(?:er)? (?:box|pack|starter|leads?|cables?) (?:charger|cord|case|(?:were |was )?(?:missing|repaired|stolen|replaced|renewed|burnt|broken|worn|recharged|on charge))\b/g,
  /\b(?:remote )?jump(?:er)?(?: start)? (?:posts?|studs?|points?|kit|sockets?|terminals?|port)\b/g,
  /\bjumping jacks?\b|\bjump(?:ed|ing|s)? (?:from|down from|out of|off) (?:the )?(?:cab|seat|step|ladder|platform|load)\b|\bwont jump up\b/g,
  /\b(?:dol|star delta|soft) starter\b|\bstarter (?:contactor|overload)\b/g,
  /\b(?:steam|pressure|power) (?:clean|wash)\w*\b/g,
  /\bbattery (?:retaining |securing |holding )?strap\b/g,
  /\b(?:again|still(?: \w+){0,3}) (?:after|with) (?:the )?(?:new|reman|replacement) (?:starter|battery|alternator)(?: motor)?\b/g,
  /\b(?:charged?|charging|billed?) (?:to )?(?:the )?(?:customer|cust|hirer|client)(?: for(?: \w+){0,2})?\b/g,
  /\bboost(?:ed|er)? (?:brakes?|pressure|leak|solenoid|sensor|hose|pipe)\b/g,
  /\bdoor interlock(?: switch)?\b/g,
  /\bstarter (?:kit|pack) (?:of|issued)\b/g,
  /\brefit(?:ted)? (?:the )?(?:starter|battery|alternator)(?: motor)?\b/g,
];

/**
 * Other machines aboard or nearby with a battery, starter or motor of their own. A clause that names one speaks of it;
 * where it speaks of starting, so do the clauses after it, until one names the unit's own engine.
 */
const ABOARD =
  'apu|webasto|eberspa\\w+|espar|parking heater|reefer|fridge|freezer|chiller|tk unit|thermo unit|carrier unit|lift ?gate|tail ?lift|wheelchair lift|tru|refrigeration unit|aircon|cab heater|night heater|trailer(?= (?:battery|unit|engine|motor|starter|start|wont|will not|does|did|not)\\b)';
export const OTHER_MACHINE = new RegExp(
  `\\b(?:${ABOARD}|genset|generator set|gen set|pony motor|donkey engine|(?:sander|spreader|salter|sprayer|aux|auxiliary|welder|pressure washer|mixer) (?:engine|motor)|(?:onboard|standby|diesel) generator|lighting tower|light tower|light plant|conveyor|(?:arrow|message) board|pallet (?:jack|truck)|hydraulic starter)\\b`,
);
/** Never a unit of its own: what the complaint says of it holds for the work as well. */
export const MACHINE_ABOARD = new RegExp(`\\b(?:${ABOARD})\\b`);
/** "no crank, APU draining it": what another machine did to the unit's battery or start. */
export const CIRCUMSTANCE = new RegExp(
  `\\b(?:with|due to|because of|caused by|after|while|from) (?:the |a |an |using |use of |running )?(?:\\w+ )?(?:${ABOARD}|genset|gen set|trailer)\\b.*`,
);
export const OWN_ENGINE = /\b(?:engine|truck|tractor|bus|vehicle|machine|loader|main)\b/;
