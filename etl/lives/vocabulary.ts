import type { Component } from '../model/words.ts';

/**
 * The words of the trade that tell what a repair record is about. Patterns run over one clause of `clausesOf`.
 * Common practice throughout: there is no standard for free text.
 */

/**
 * Stems without which a clause says nothing of starting: most clauses have none of them, and are not looked at further.
 * Whatever the patterns below find holds one.
 */
export const STEMS =
  /batt|start|\bst\b|\bstr\b|crank|turn|fire|jump|boost|slave|charg|alternat|generat|regulat|equali|solenoid|cable|lead|strap|wire|wiring|harness|clamp|terminal|post|lug|connect|isolat|link|ground|earth|braid|stud|\bnut|relay|switch|button|toggle|ignition|key|immobil|interlock|inhibit|neutral|cells?\b|bendix|pinion|brush|dead|click|\brun\b|nothing|\b(?:response|reaction|answer)\b|kick|power|feed|supply|volt|fuse|megafuse|loom|no go|reg\b|agm|load test|self|cut ?off|range sensor|bcm|body control|cut out|\bkey/;

/** Component words, the most specific first: the first match takes its words out of the clause. */
export const COMPONENT_WORDS: readonly { component: Component; pattern: RegExp; weight: number }[] = [
  {
    component: 'control',
    weight: 3,
    pattern:
      /\b(?:starter|start|starting|crank|cranking)(?: (?:lockout|cutout|cut out|control|enable|slave|aux|auxiliary))? (?:relay|switch|button|toggle|interlock|inhibitor|circuit|inhibit|fuse)\b|\b(?:interlock|inhibit(?:or)?) (?:module|relay|switch)(?: (?:for|of|to) (?:the )?starter(?: motor)?)?\b|\bpush button(?: start)?\b|\bmag(?:netic)? switch\b|\b(?:power|feed|supply|volts|voltage) (?:to|at|on) (?:the )?(?:key|ignition)\b|\bignition (?:switch|relay|key|lock(?: cylinder| barrel)?|barrel|cylinder)\b|\b(?:starter )?solenoid (?:trigger |exciter |s )?wire(?: s terminal)?\b|\bs terminal\b|\b(?:re ?)?(?:program|learn)\w* (?:\w+ )?key\w*\b|\b(?:teach|taught) (?:\w+ )?keys?\b|\bkeys? taught\b|\b(?:start|starter|crank) (?:lock ?out|inhibit)\b|\b(?:gear |transmission |neutral )?range sensor\b|\bkeys? (?:re ?)?(?:program|learn|cod(?:ed|ing)|(?:is |was )?not recogni[sz]ed)\w*\b|\bstart lock(?: relay)?\b|\b(?:key|ignition) switch\b|\b(?:park )?neutral (?:safety |start |position )?switch\b|\bclutch (?:pedal )?(?:safety |interlock )?switch\b|\bsafety switch (?:at|on) (?:the )?clutch\b|\b(?:clutch|starter|start) interlock(?: switch)?\b|\bimmobiliser\b|\bneutral safety\b|\binhibitor switch\b|\brange switch\b|\bkey barrel\b|\bkey\b(?= (?:wont|wouldnt|will not|would not|not) turn)|\bkey\b(?=(?: \w+){1,4} ignition\b)|\bkey ?pad\b|\bkey tag\b|\b(?:starter )?(?:lockout|inhibit\w*) relay\b|\bbrake interlock\b|\bfuse (?:for|to) (?:the )?(?:ignition|starter?)\b|\bfusible link to (?:the )?starter relay\b|\b(?:starter|start) (?:feed|signal|control|trigger|exciter) (?:wire|lead|cable)s?\b|\b(?:starter|start|ignition) (?:loom|plug|micro ?switch)\b/g,
  },
  {
    component: 'cables',
    weight: 3,
    pattern:
      /\bmain battery switch\b|\b(?:main|master) switch battery\b|\b(?:\w+ )?(?:cable|lead|strap|wire)s?(?: from)?(?: the)? battery to (?:the )?(?:starter|solenoid|frame|chassis|ground|alternator)(?: motor)?\b|\b(?:battery|starter) to (?:starter|battery|solenoid|frame|chassis|ground) (?:cable|lead|strap|wire)s?\b|\b(?:\w+ )?(?:cable|lead|strap|wire|loom|harness|wiring|connection)s?(?: (?:cut|burnt|broken|melted|chafed|loose|corroded|off|hanging off|going))? (?:to|from|at|on|off|behind|between) (?:the )?(?:start |starter (?=solenoid))?(?:starter|battery|alternator|solenoid)(?: motor)?\b|\b(?:battery|starter|start|main|positive|negative|ground|earth|jumper)(?: motor)? (?:positive |negative |earth |ground )?(?:cable|lead|strap|wire|wiring|harness|clamp|clamps|terminal|post|posts|lug|lugs|connection|connector|thimble|isolator|isolation switch|disconnect switch|disconnect|cut ?off switch|master switch|switch|link)s?\b|\bcut ?off switch(?: of (?:the )?battery)?\b|\b(?:earth|ground) (?:strap|braid|cable|lead|stud|bolt|point)s?\b|\b(?:starter|battery|alternator|engine|frame|chassis|cab) (?:ground|earth)s?\b|\bgrounds? (?:at|on|to) (?:the )?(?:block|engine|frame|chassis|body|firewall)\b|\b(?:lug|nut|stud|connection|terminal|post)s?(?: (?:burnt|broken|melted|loose|corroded))? (?:at|on|to) (?:the )?(?:starter|battery|solenoid)(?: motor)?(?: b| b stud| stud| post| terminal)?\b|\b(?:positive|negative) (?:cable|lead)s?\b|\bcable ends?\b|\bterminal\b|\b(?:battery )?(?:disconnect|isolator|isolation|(?<!window )master) switch\b|\bfusible link\b|\bhot wire\b|\b(?:mega|battery) ?fuse\b(?: (?:at|on) (?:the )?battery)?|\b(?:battery|main|starter) feed\b(?: to (?:the )?(?:starter )?solenoid)?/g,
  },
  {
    component: 'charging',
    weight: 3,
    pattern:
      /\balternators?(?: light| lamp| drive belt| belt| warning)?\b|\bcharge (?:light|lamp|warning)\b|\bbattery (?:warning )?(?:light|lamp|indicator)\b|\bvoltage regulator\b|\b(?:battery )?equali[sz]er\b|\b(?:not |no |over |under )charg(?:e|ing)\b|\bcharging(?: system| circuit| fault| light)?\b|\bgenerator\b|\b(?:volt\w*|charge\w*|charging)(?: \w+){0,3} regulator\b|\bcharge rate\b|\bfield wire\b|\bcut out\b(?=.*\bbattery)/g,
  },
  {
    component: 'starter',
    weight: 3,
    pattern:
      /\b(?:starter|starting|start|st|cranking) (?:motor|solenoid)s?(?: solenoid| brush(?:es)?)?\b|\bstarter\b|\bsolenoid switch\b|\bself (?=wire|bush|carbon|armature|burnt|relay)|\bstart (?:brush(?:es)?|unserviceable|worn|dead spot|contacts)\b|\b(?:replaced?|fitted|new|reman|exchange|changeout|changed|bad|repaired|tested) (?:out )?(?:new |reman |exchange )?(?:start|str)\b|^(?:left |right |front |rear |new )?str (?:replaced|changed|changeout|exchanged?|renewed|fitted|unserviceable|bad|faulty)\b|\bbendix\b|\bstarter drive\b|\bpinion\b(?= .*\bstart)|\bbrush(?:es)?\b(?= .*\bstart)/g,
  },
  {
    component: 'battery',
    weight: 3,
    pattern:
      /\bbattery\b|\bagms?\b|\bload test(?:ed)? (?:it|them|both)\b|\bcells? (?:dead|shorted|dry)\b|\b(?:dead|shorted|bad) cells?\b|\btrickle charg\w*\b|\bcharger on\b|\bput (?:it |them )?on charger?\b/g,
  },
];

/** A solenoid in a clause that speaks of starting or cranking is the starter's; elsewhere it is anybody's. */
export const BARE_SOLENOID = /\bsolenoid\b/g;
export const SPEAKS_OF_STARTING = /\b(?:no start|crank|cranks|cranking|starter|battery|(?:wont|will not|not) start)\b/;
/** What leaves a battery empty: what is then charged is that. */
export const SPEAKS_OF_FLAT =
  /\b(?:flat|dead|drained|discharged|run down|empty)\b|\bleft (?:\w+ )?on\b|\b(?:light|lamp|radio|ignition|key)s? on (?:all|over|for)\b/;

/** What else is flat or empty, and charged. */
export const SPEAKS_OF_OTHER_CHARGES =
  /\b(?:extinguisher|accumulator|aircon|refrigerant|gas|tyre|tire|nitrogen|fire|suspension|cylinder|tank)\b/;

/** An engine that is turned well, or a fuel valve: a solenoid without a name is not the starter's. */
export const SPEAKS_OF_FUEL =
  /\b(?:fuel|run|shutdown|shut off|shut ?off|stop|pto|injector|purge|egr)\b|\b(?:cranks|turns over|cranking|cranked)(?: (?:ok|good|fine|well|over))* (?:but|no|not|wont|does|doesnt)\b/;
export const SPEAKS_OF_CHARGING = /\b(?:charg\w*|overcharg\w*|alternator|volt\w*|vltg?|boil\w*)\b/;
export const STARTING_CONTEXT = /\b(?:start|starting|crank|cranks|cranking|click|clicks|clicking|starter)\b/;

/** What bears no name of its own, in a record that speaks of starting or charging, and what it then is. */
export const BARE_PARTS: readonly { of: 'starting' | 'charging' | 'solenoid' | 'flat'; bare: RegExp; named: string }[] =
  [
    { of: 'starting', bare: /\b(?:cable|grounds?|earths?|connection)\b/, named: 'battery cable' },
    { of: 'starting', bare: /\brelay\b/, named: 'starter relay' },
    { of: 'starting', bare: /\bisolator\b/, named: 'battery isolator' },
    { of: 'starting', bare: /\b(?:pinion|drive gear)\b/, named: 'starter pinion' },
    { of: 'solenoid', bare: /\bsolenoid\b/, named: 'starter solenoid' },
    { of: 'flat', bare: /\b(?=(?:re ?)?charged?\b(?! (?:to|cust\w*|client|hirer)\b))/, named: 'battery ' },
    { of: 'charging', bare: /\b(?:regulator|reg)\b/, named: 'voltage regulator' },
  ];

/** What keeps an engine from being cranked while the operator is not where he should be. */
export const INTERLOCKS =
  /\b(?:seat(?: safety)? (?:switch|sensor)|lap bar (?:switch|sensor)|(?<!clutch )safety switch|(?:door )?interlock(?: micro)? ?switch|door interlock|bcm|body control(?:ler| module)?)\b/;

export const JUMP_START =
  /\bjump (?:start|starts|started|starting|pack|box|leads?|off|up)\w*\b|\bjumpy\b|\bbattery (?:was |were )?boosted\b|\bstart(?:ed|ing)? (?:with|by|using) (?:help|assist\w*) (?:cable|lead)s?\b|\bstarted (?:\w+ ){0,4}(?:with|by|from|off) (?:a |an |the )?(?:booster|jumper|jump|pack|slave)\b|\bstart(?:ed)? (?:it )?(?:with|by|from|using|off) (?:the )?(?:help of )?(?:a |an |the )?(?:another|other|spare|booster|outside|donor|second)(?: \w+)? (?:battery|bus|vehicle|truck|machine|van)\b|\bjump(?:ed|ing)\b(?! (?:jack|down|clear|from (?:the )?(?:cab|seat|step|ladder|platform|truck bed)|out|over|timing|gear|track|across|the solenoid|solenoid))|\b(?:req|require[sd]?|needs?|needed|gave|give|got|get|had|want(?:s|ed)?|for) (?:\w+ )?(?:a )?jump\b|\bjump\b(?! (?:seat|hose|line|wire|out|over|tube|pipe|ring|cable|lead|the|across|time|timing|to|relay|pin|course|ramp|suit)\b)|\bjumper (?:cable|lead|pack)s?\b(?! (?:replaced|missing|stolen|broken|repair\w*))|^(?:was |got )?boost(?:ed)?$|^(?:was |got )?boosted\b(?! (?:brakes?|pressure|hydraulic|output|flow))|\b(?:gave|give|needs?|needed|got|req|require[sd]?) (?:\w+ )?(?:a )?boost\b|\bboost(?:ed)? (?:(?:to )?start|battery|off|unit|truck|engine|machine|from (?:\w+ )?(?:truck|unit|van|pickup|bus|cart))\b|\bbooster (?:pack|cable|lead|battery|start)\w*\b|\bslave[d]? (?:it |her |them |him )?(?:start|off|from|over)\w*\b/;

/** Nobody jumped it. */
export const NOT_JUMPED =
  /\b(?:did not|didnt|no need (?:to|for a|of a)|not need(?:ed)? (?:to be )?(?:a )?|never(?: needed)?(?: to be)?(?: a)?|refused|denied|declined|without(?: a)?|no) jump(?:ed|ing)?(?: start\w*| needed| required| off)?\b|\bjump(?: start)? (?:refused|denied|declined)\b/g;

/** Somebody tried to jump it, and it did not start. */
export const JUMP_FAILED =
  /\b(?:unable to|could not|couldnt|cannot|cant|tried to)(?: be)? jump(?:ed| start\w*| off)?\b|\bjump(?: start)? (?:no (?:help|good|luck)|(?:did|would|will|does) not (?:take|help|work|start)|(?:didnt|wouldnt|wont|doesnt) (?:take|help|work|start)|failed|unsuccessful)\b/g;

export const NO_START =
  /\b(?:wont|will not|would not|wouldnt|cant|cannot|could not|couldnt|not|dont|do not|didnt|did not|doesnt|does not|fail(?:s|ed)? to|unable to|never|refuse[sd]? to)(?: \w+)? (?:start(?!er)|re ?start|crank|turn over|turn(?! on| off| left| right| signal| into| down| up)|fire up|fire|kick over)\w*\b(?! signal| left| right| suppression| system| alarm)|\b(?:wont|will not|would not|wouldnt|not|doesnt|does not|didnt)(?: even)? click\w*\b|\bnot (?:getting |taking )start\w*\b|\bstarts? only (?:by|on|with|off) (?:push|pull|tow|slave|jump|bump)\w*\b|^no go$|\b(?:bus|truck|machine|unit|vehicle|engine|van|loader|coach|digger) no go\b|\b(?:pushed|towed|bumped) (?:by \w+ )?(?:to|and) start\w*\b|\bonly (?:starts?|started|starting) (?:by|with|on|off) (?:a )?(?:push|pull|tow|slave|jump|bump)\w*\b|^(?:.*\b(?:engine|machine|unit|truck|bus|vehicle|loader|tractor|van|car)\b )?(?:wont|will not|would not|does not|doesnt|not) run$|\bno (?:re)?start\b|\bintermittent(?:ly)? (?:no )?(?:start|crank)\b|\bstarts? (?:hard|poor(?:ly)?|bad(?:ly)?|slow(?:ly)?)\b|\b(?:reluctant|slow|lazy) to start\b|\bpoor(?:ly)? start\w*\b|\b(?:unit|truck|machine|vehicle|bus|tractor|loader|van|car) (?:is |was )?dead\b|\bdead this morning\b|\bno crank\b|\bnon start(?:er)?\b|\bhard (?:to )?(?:re)?start(?:ing|s)?\b|\b(?:slow|lazy|weak)(?:ly)?(?: to)? (?:crank|start|turn)\w*\b|\b(?:crank|turn)(?:s|ing|ed)?(?: over)?(?: very| too)? (?:slow|weak|lazy)\w*\b|\bstarting (?:fault|problem|issue|trouble|difficult\w*)\b|\bstart (?:fault|problem|issue|trouble)\b|\b(?:difficult|slow) (?:to )?start\w*\b|\b(?:just |only |single )?click(?:s|ing)?(?: only| when| but| no)\b|\bjust click\w*\b|\bclick no crank\b|\bdead (?:in|at|on) (?:yard|stand|depot|road|site|arrival)\b|\bnothing (?:happens )?(?:when|at|on|with) (?:key|turning|the key|start|button)\b|\bno (?:response|reaction|answer) (?:to|from|at|when|on) (?:the )?(?:start(?:er)?|key|ignition)(?: button| switch| motor)?\b|\bno turn over\b|\b(?:cranks?|turns?|turning|cranking|cranked|turned)(?: over)? (?:ok |fine |good |well )?(?:but |and )?(?:wont|will not|would not|doesnt|does not|not) (?:catch|fire|light)\w*\b|\bnot starter (?:start|turn|tak)\w*\b|\bstarter not (?:taking|turning|working|responding)\b|\b(?:push|bump|tow|roll|rolled|pushed) (?:to )?start(?:ed)?\b|\b(?:several|many|few) (?:tries|attempts) to start\b/;

/** The start is barred, which is a fault of what bars it. */
export const LOCKED_OUT = /\b(?:start|starter|starting|crank) (?:lock(?:ed)? ?out|inhibit(?:ed)?)\b/;

export const FLAT_BATTERY =
  /\b(?:flat|dead|discharged|drained|low)(?: \w+)? battery\b(?! (?:volt\w*|light|lamp|warning|alarm|code))|\bbattery(?: (?!volt|light|lamp)\w+){0,2} (?:flat|dead|low|discharged?|drained|gone)\b/;

/** What was done, the strongest first. `weight` breaks a tie within a clause. */
export const ACTION_WORDS: readonly { event: 'replaced' | 'repaired' | 'inspected'; pattern: RegExp }[] = [
  {
    event: 'replaced',
    pattern:
      /\breplac(?:e|ed|es|ing|ement)\b|\bchange(?:d|s|out|over)?\b|\bchanging\b|\brenew(?:ed)?\b|\bswap(?:ped|s)?\b|\b(?:re)?new\b|\bswop\w*\b|\bnew \w+ issued\b|\bfit(?:ted)?\b(?! tight)|\binstall(?:ed)?\b|\bexchange[d]?\b|\breman\b(?! (?:engine|motor (?!starter)|transmission|gearbox|block|head)\b)|\bsupply\b|\bsupplied\b|\bbought\b|\bborrowed\b|\bpurchased\b|\b(?:put|puts|putting|chuck\w*|hung|slung|threw|stuck|bunged|whacked|popped|slapped|dropped|bolted|screwed|banged) (?:in|on|up)(?= (?:a|an|another|new|set|pair|two|three|four|reman|rebuilt|replacement|spare|this|here|\d+)\b)|\b(?:put|chuck\w*|hung|slung|threw|stuck|bunged|whacked|popped|slapped|dropped) (?:a|an|another|new|two|three|four|the other|other|one|reman|rebuilt|spare|\d+)(?: (?!charg|jump|boost|pack|meter|tester|cover|tape|label|boot|sticker|load|slave|patch|clean|clip|tie)\w+){0,3} (?:in|on)\b(?! (?:charge|order|test|bench|hold))|\bmontaged\b|\bput (?:in )?(?:(?:a|an|the) )?(?:overhaul(?:ed)?|exchange|another|other|spare) (?=battery|starter|alternator)|\b(?:put|hung|slung|stuck) (?:them|it) (?:in|on) (?:this|here)\b|^(?:put|hung) (?:in|on)(?= (?:this|here|\w+ \w+)\b|$)(?! (?:charge|order|test|bench|hold|the charge|a charge))|\bput (?:(?:a|the|another|\d|two|three|four) )?(?:battery|starter|alternator)(?: motor)? (?:in|on)\b(?! charge| the charger| a charger| charger| test| order)/,
  },
  {
    event: 'repaired',
    pattern:
      /\brepair(?:s|ed|ing)?\b|\bre ?solder\w*\b|\bsoldered\b|\bjoined\b|\bremade\b|\bmade good\b|\bre ?made\b|\b(?:titen\w*|nipped|done) up\b|\btaped?\b(?! measure)|^tight (?=\w)|\brectif\w*\b|\b(?:put|set|made) right\b|\bsorted(?: out)?\b(?! (?:parts|mail))|\bbuffed\b|\bsanded\b|\bscraped\b|\bfiled\b|\bpolished\b|\bdressed\b|\b(?:wire )?brushed\b|\bneutrali[sz]ed\b|\bsnugged\b|\bre ?plugged\b|\b(?:plugged|pushed|bolted|screwed|clipped) (?:it |them )?back\b|\bplugged (?:it )?in\b|\bstripped\b|\brefurbish\w*\b|\bgave (?:\w+ ){1,3}(?:a )?(?:birthday|clean|tickle|scrub|wire brush)\b|(?<=\b(?:wire|lead|cable|clamp|terminal|connection|connector|plug|strap|earth)s? )(?:\w+ )?re ?fitted\b|\bre ?fitted (?=(?:\w+ )?(?:wire|lead|cable|clamp|terminal|connection|connector|plug|strap|earth)s?\b)|\bre ?seal(?:ed)?\b|\breseat(?:ed)?\b|\btightening\b|\bcleaning\b|\bcoded\b|\bunseized\b|\bput (?:it |them )?back on\b|\bpatched\b|\bstraightened\b|\bdried\b|\bre ?tap(?:ped)?\b|\bfix(?:ed)?\b|\brebuil[dt]\b|\boverhaul(?:ed)?\b|\bclean(?:ed)?\b|\btighten(?:ed)?\b|\bretighten(?:ed)?\b|\btightened\b|\bre ?terminat\w*\b|\badjust(?:ed)?\b|\brewir\w*\b|\bsecured\b|^secure\b|\b(?:re)?bolted\b|(?<!\bcheck(?:ed)? (?:the )?)\b(?:re ?)?torqued?\b(?! (?:of\b|specs?\b|checked|check|ok|good))|\bre ?attached\b|\bre ?crimp\w*\b|\bcrimped\b|\bre ?routed\b|\b(?:re ?)?loomed\b|\bclipped\b|\bwrapped\b|\btaped\b|\bsleeved\b|\bgreased\b|\bvaselined\b|\brelearn\w*\b|\brecod\w*\b|\bteach\b|\btaught\b|\bre ?w(?:ound|ind)\b|\bthawed\b|\bput (?:\w+ )?(?:on charger?|charger on)\b|\breset\b|\b(?:re)?program(?:m?ed)?\b|\b(?:re)?flashed\b|\breflash\b|\bshim(?:med)?\b|\bre ?align(?:ed)?\b|\blubricat\w*\b|\bsplic\w*\b|\bfree[ds]?(?: up)?\b|(?<!\b(?:\d+|fully|full|\d+ percent|left|not) )\bcharged\b(?! (?:to )?(?:the )?(?:customer|cust|hirer|client|account))|\b(?<!\b(?:uneven|no|low|of|full|good|hold|holds|holding|hold a|a|core|surface|poor|under|over|accept|accepted|accepts|take|takes|took|taking) )charge\b(?! (?:rate|customer|cust|to|hirer|client))|\brecharg\w*\b|\btopped? up\b/,
  },
  {
    event: 'inspected',
    pattern:
      /\bcheck(?:ed|s)?\b|\btest(?:ed|s)?\b|\binspect(?:ed|ion)?\b|\bload test\w*\b|\bmeasur\w*\b|\bdiagnos\w*\b|\binvestigat\w*\b|\btrouble ?shoot\w*\b|\blook at\b/,
  },
];

/** Parts of a starter: new ones are a repair, the starter stays ("brushes replaced", "fitted brush kit"). */
export const SUB_PARTS =
  /\b(?:starter(?: motor)? brush(?:es)?|brush(?:es)?(?: (?:kit|set|holder))?|carbons?|armature|field coils?|starter(?: motor)?(?: solenoid)? (?:bolts?|bush(?:es|ing)?|contacts?|plunger|gasket|mount\w*|spacer|shim|brush\w*)|new (?:cable ends?|lugs?))\b/;

/** The same where the starter was named before: "bolts fell out, installed new bolts". */
export const SUB_PARTS_ALONE = /\b(?:bolts?|bush(?:es|ing)?|brush(?:es)?|contacts?|plunger|gasket|eye|eyelet|crimp)\b/;

/** Something was done, and not to this part: "battery ok", "batteries tested good", "not the starter". */
export const CLEARED =
  /(?<!\b(?:no|not|any|for) )\b(?:ok|okay|good|fine|serviceable|healthy|passed|pass|within spec|no fault|no fault found|not (?:the )?(?:problem|fault|cause|faulty|bad))\b/;
/** Somebody did it: no state, no wish. */
export const DONE = /\b(?:replaced|changed|changeout|renewed|swapped|swopped|exchanged|put in)\b/;
export const NOT_DONE =
  /\bneither\b|\bnew (?:ones?|set|pair|unit|battery|starter|alternator|relay|switch|cable)(?: motor)? (?:is |are |was |were |has been |have been |now )?(?:ordered|on order|requested|required|needed|coming|quoted)\b|\b(?:no|no new|not any) (?:battery|starter|alternator|cable|relay|parts?)(?: motor)? (?:were |was |been )?(?:replaced|changed|fitted|installed|renewed|put in)\b|\b(?:was|were|been) (?:replaced|changed|renewed|fitted|installed) (?:on \d|on (?:mon|tues|wednes|thurs|fri|satur|sun)day|under (?:wo|work order|job|previous)|by (?:the )?(?:previous|other|last) )|\b(?:was|were|had|been) just (?:been )?(?:replaced|changed|renewed|fitted|installed)\b|\bfor (?:a )?(?:test|trial|testing|comparison)(?: purposes?| only)*\b(?= (?:only|purpose)|$)|\basked to\b|\brather than\b|\bto be (?:replaced|changed|renewed|fitted|exchanged|installed)\b|\b(?:in place of|instead of|in lieu of) (?:a )?(?:new|replac\w*|chang\w*|renew\w*)\b|\b(?:replacement|changeout|replacing) (?:\w+ )?(?:deferred|postponed|cancelled|canceled|refused|pending|on hold)\b|\b(?:request\w*|asked for|wants?|wanted|refused|considered) (?:a |for )?(?:new|reman|replac\w*|battery|starter|alternator)\b|\bwrong (?:battery|starter|alternator)\b|\b(?:sent back|returned to (?:supplier|stock|parts|store)|not used)\b|\b(?:will (?!not\b)(?:be )?|plan(?:s|ned|ning)? to |going to |intends? to |may |might |should )(?:\w+ ){0,4}(?:replace|change|changeout|renew|install|swap|fit|repair|rebuild)\b|\bif (?:\w+ ){0,8}(?:replace|change|changeout|renew|install|swap|fit|repair|rebuild)\b|\b(?:same|old) (?:ones?|battery|starter|alternator|unit)(?: motor)? (?:back|refitted|reused|reinstalled)\b|\bto (?:gain )?access\b|\b(?:not|no need to|didnt|did not|without|awaiting|await|needs?|required?|recommend(?:ed|s)?|advise[sd]?|order(?:ed)?|quoted?|on order|due for) (?:to )?(?:be )?(?:(?:a|an|the|some|two|both|\d) )?(?:replac\w*|chang\w*|fit\w*|repair\w*|new)\b|\b(?:declined?|quoted?|awaiting|await|quote for|price for|estimate for)(?: \w+)? (?:battery|starter|alternator)\b|\b(?:battery|starter|alternator)(?: motor)? (?:on order|required|needed|ordered)\b|\bnot (?:the )?(?:battery|starter|alternator)\b|\b(?:replac\w*|chang\w*) (?:not )?(?:required|needed|next time|next visit|next service|declined)\b|\b(?:tell|told|advise[sd]?|inform(?:ed)?|suggest(?:ed)?)(?: (?!changed|replaced|fitted)\w+){1,4} (?:buy|get|purchase|order|replace|change|renew|fit)\b|\btomorrow\b|\bnext (?:week|month|visit|service|pms?)\b|\b(?:replaced|changed|fitted|new|installed|renewed|rebuilt|overhauled|repaired)(?: (?!as\b|per\b)\w+){0,3} (?:in (?:january|february|march|april|may|june|july|august|september|october|november|december)|last (?:week|month|year|visit|time|service|winter|summer)|yesterday|previously|recently|earlier|(?:days?|weeks?|months?|years?) ago)\b|\b(?:recently|previously|already) (?:replaced|changed|fitted|renewed|installed)\b/;

/** Says of its whole field that nothing was done. */
export const NOTHING_DONE =
  /\bno (?:work|repairs?|action) (?:was |were )?(?:needed|required|necessary|performed|done|taken|made)\b/;

/** A correction that says that something was done, not what. */
export const VAGUE =
  /^(?:all )?(?:repaired|fixed|rectified|done|completed?|attended|see notes?|see text|ok(?:ay)?(?: now)?|sorted|made good)(?: as required| as per text| ok)?$/;

/** Signs that the work was not planned. */
export const FAULT_WORDS =
  /\bunserviceable\b|\bfail(?:ed|s|ure|ing)?\b|\bfault(?:y)?\b|\bdead\b|\bflat\b|\bburnt?(?: out)?\b|\bbroken?\b|\bbroke(?: down)?\b|\bdamag\w*\b|\bshort(?:ed)?\b|\bseized\b|\bstuck\b|\bstick(?:ing)?\b|\bgrind\w*\b|\bnois[ey]\b|\bworn(?: out)?\b|\bcracked\b|\bswollen\b|\bbulg\w*\b|\bleaking\b|\bslow\b|\bweak\b|\bintermittent\b|\bdefective\b|\bno good\b|\bbad\b|\btow(?:ed)?\b|\broad ?(?:call|side)\b|\bbreakdown\b|\bstranded\b|\bwont hold\b|\bclick\w*\b|\bgone\b|\bno (?:power|voltage|volts|feed|supply)\b|\b(?:light|lamp|warning) (?:is |was |comes? |came |coming |stays? )?on\b/;
/** Signs of a failure on the road or in the yard, which no planned visit explains away. */
export const STRANDED_WORDS =
  /\btow(?:ed|ing)?\b|\broad ?(?:call|side)\b|\bbreakdown\b|\bstranded\b|\brecovery\b|\bfailed (?:in|on|at) (?:the )?(?:yard|road|route|site|stand|job|line)\b/;
/** Signs that the work was planned; "due to", "out of service" and the like are none. */
export const PLANNED_WORDS =
  /\b(?:planned|scheduled|preventive|preventative|preventively|prev maint|proactive|proactively|precaution\w*|campaign|routine|pms?|pmi|annual|time based|age related|(?:weekly|mot|dot|cof|safety|state) (?:inspect\w*|prep\w*|test)|(?:at|on|during) (?:the )?(?:\w+ )?inspect(?:ion)?|life expired|aged? out|end of life|(?:on|by) age|programme|program|policy|upgrade|refit|refurb\w*|(?:during|as part of) (?:the |an? )?(?:\w+ )?(?:overhaul|rebuild|repower)|winteri[sz]\w*|(?:winter|summer|season|seasonal) (?:prep\w*|kit|campaign|check)|(?:before|prior to|ahead of) (?:the )?(?:harvest|winter|summer|season|storage)|monthly|yearly|periodic)\b|\bdue\b(?! to\b)|(?<!out of |in |into |back to |return to |returned to |mobile |tyre )\bservice\b(?! (?:call|truck|brake|van|exchange))/;

/** Taken away by somebody: what is gone had not failed. */
export const TAKEN_WORDS = /\bstolen\b|\b(?<!anti )theft\b/;

export const POSITION_WORDS: readonly { position: string; pattern: RegExp }[] = [
  {
    position: 'left',
    pattern:
      /\bleft\b(?! (?:\w+ on\b|out\b|front|rear|tyre|tire|wheel|marker|signal|turn|mirror|blinker|window|seat|side door|ajar|on|in|running|open|at|with|it|over|unit|key|lights?|lamps?|headlights?|ignition|switch|isolator|door|the|them|his|her|for|site|yard|depot|overnight|radio|beacon|master)\b)|\bport (?:main|engine|side|motor|starter|battery|bank|alternator|start|starboard)\b/,
  },
  {
    position: 'right',
    pattern:
      /\bright\b(?! (?:front|rear|tyre|tire|wheel|marker|signal|turn|mirror|blinker|window|seat|side door|lights?|lamps?|headlights?|door|away|now|off|after)\b)|\bstarboard\b(?! (?:light|lamp|side door))/,
  },
  {
    position: 'front',
    pattern: /\bfront (?:engine|motor|starter|battery)\b(?! (?:door|bay|cover|compartment|hatch|mount))/,
  },
  {
    position: 'rear',
    pattern: /\b(?:rear|back) (?:engine|motor|starter|battery)\b(?! (?:door|bay|cover|compartment|hatch|mount))/,
  },
];
