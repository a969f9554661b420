/**
 * Words that carry a starting word and have nothing to do with starting. Patterns run over one clause of `clausesOf`.
 * Common practice throughout: there is no standard for free text.
 */

/** Masked before anything else is read. */
export const LOOK_ALIKES: readonly RegExp[] = [
  /\bprelube (?:starter|start|pump|motor)(?: (?:motor|switch|solenoid|relay))?\b/g,
  /\b(?:fuel|run|shutdown|shut off|stop|down|lube|pump|dump|grease|logic|valve|hydraulic|brake|fan|transmission|gear|diff|aircon|blower|door|lift|tipper|pto)(?: \w+)? solenoid(?: valve)?\b/g,
  /\b(?:grease|lube|oil|fuel|hydraulic|water|air|vacuum|blower|fan)(?: (?:pump|compressor|motor|fan))? starter\b|(?<!starter )\bmotor starter\b/g,
  /\bsolenoid (?:valve|hose|relay front)\b/g,
  /\b(?:radio|phone|torch|flashlight|remote|fob|key fob|drill|tablet|handset|headset|camera|tracker|trailer|tool|smoke detector|clock|scanner|laptop|calculator|ups|alarm|emergency light|exit light|lift truck|memory|backup|meter|gauge|toll tag) battery\b/g,
  /\bbattery (?:powered|operated|backup|saver)\b|\bnew (?:battery )?(?:tray|box|lid|cover|bracket|rack)\b/g,
  /\b(?:pull|recoil|rope) starter\b|\bstarter (?:cord|rope|handle)\b/g,
  /\bbattery (?:in|of|for|inside) (?:\w+ ){0,3}(?:radio|phone|torch|flashlight|remote|fob|key|drill|tablet|handset|headset|camera|tracker|trailer|tool|smoke|clock|scanner|laptop|pager|beacon|toll tag|dash ?cam|gauge|meter|thermometer)(?: (?!\w*start)\w+)?\b/g,
  /\b(?:blower|heater|fan|pump|compressor|wiper|radio|generator set|genset|apu|reefer|fridge|lift|tail lift|crane|winch|mixer|auger|pto|burner|aircon|camera|computer|tablet|screen)(?: \w+)? (?:wont|will not|does not|doesnt|did not|cannot|not)(?: \w+)? start\w*/g,
  /\bbattery (?:box|tray|cover|lid|door|compartment|bracket|hold ?down|holddown|rack|hatch|charger|drill|tool|tender|maintainer|minder|monitor|blanket|warmer|heater|tester|sensor|decal|sticker|label)\b/g,
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
  /\b(?:removed?|dropped|moved|r and i) (?:the )?(?:starter|battery|alternator)(?: motor)? (?:to|for) (?:gain )?access\b/g,
  /\brefit(?:ted)? (?:the )?(?:starter|battery|alternator)(?: motor)?\b/g,
];

/**
 * Other machines aboard or nearby with a battery, starter or motor of their own. A clause that names one speaks of it;
 * where it speaks of starting, so do the clauses after it, until one names the unit's own engine.
 */
export const OTHER_MACHINE =
  /\b(?:apu|reefer|fridge unit|tk unit|thermo unit|carrier unit|genset|generator set|gen set|lift ?gate|tail ?lift|wheelchair lift|pony motor|donkey engine|conveyor|aircon|cab heater|night heater|pallet (?:jack|truck)|hydraulic starter|trailer)\b/;
export const OWN_ENGINE = /\b(?:engine|truck|tractor|bus|vehicle|machine|loader|main)\b/;
