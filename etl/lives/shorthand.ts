/**
 * What workshops write with marks inside or in letters, undone before words are cut. Patterns run in order over the
 * whole text in lower case. Common practice throughout.
 */
export const SHORTHAND: readonly [RegExp, string][] = [
  // Spoken marks of a dictated record.
  [/\b(?:full stop|period(?! of)|new ?line|next line)(?= |$)/g, '. '],
  [/\bcomma(?= |$)/g, ', '],
  [/[’`´]/g, "'"],
  [/\b(won|don|can|isn|doesn|didn|wouldn|couldn)'?\s?t\b/g, '$1t'],
  [/(\w)'d\b/g, '$1d'],
  [/(\w)'s\b/g, '$1'],
  [/\bn\/c\b/g, ' '],
  [/\bc\/\s?(o|out)(?:'?d)?\b/g, ' changeout '],
  [/\bchange(d)?[\s-]?out\b/g, ' changeout '],
  [/\br\s?[&/+]\s?r(?:'?d)?\b|\br ?n ?r\b/g, ' replaced '],
  [/\bbetween (?:the )?\w+ and (?:the )?\w+\b/g, ' '],
  [/\bu\/s\b/g, ' unserviceable '],
  [
    /\bl\s?[&/+]\s?r\b(?!\/)|\bl\/h\s?[&/+]\s?r\/h\b|\blh\s?[&/+]\s?rh\b|\bboth (?=(?:engines|engs|motors|sides|banks|starters)\b)/g,
    ' left right ',
  ],
  [/\bl[/.]h\b\.?|\blhs?\b|\bl\/hand\b|\bleft[\s-]hand\b/g, ' left '],
  [/\br[/.]h\b\.?|\brhs?\b|\br\/hand\b|\bright[\s-]hand\b/g, ' right '],
  // Both sides of one thing.
  [/\b(left|right|port|starboard|stbd)\s*(?:\band\b|[&/+,])\s*(?:the )?(left|right|port|starboard|stbd)\b/g, ' $1 $2 '],
  [/\bo\/h\b/g, ' overhaul '],
  // Parts as a catalogue names them: "SOLENOID, STARTER 12V", "BATTERY, TRAILER BREAKAWAY".
  [
    /\b((?:key )?switch|relay|solenoid|motor|cable|strap|lead|lock|lamp|battery), ?(?<=(?:^\s*|[;.]\s*|\b(?:ea|pcs?|each|\d) )(?:key )?\w+, ?)([a-z]+(?: (?!replac|instal|fit|chang|renew|test|check|charg|clean|repair|ok|good)[a-z]+){0,2})(?=\s*(?:$|[;.,]|\d))/g,
    '$2 $1',
  ],
  [/(?<=\b(?:batt?|battery|alt|chg|charge) )lt\b/g, 'light'],
  [/\bplus (?=(?:cable|lead|pole|terminal|wire))/g, 'positive '],
  [/\bminus (?=(?:cable|lead|pole|terminal|wire))/g, 'negative '],
  // A list to tick off: what is not ticked was not done.
  [/\[ ?\][^[;.]*/g, '. '],
  [/\[ ?[xv✓] ?\]/g, '. '],
  [/\ba\/c\b/g, ' aircon '],
  [/\bnss?(?= (?:sw|switch)\b)/g, ' neutral safety '],
  // "N/S" is the near side before what a vehicle has on either side, and wherever the off side is named as well.
  [
    /\b[no]\/s\/?[fr]?\b(?= (?:wing|mirror|lights?|lamps?|head\w*|fog|side\w*|doors?|windows?|glass|ty[ri]es?|tires?|wheels?|wipers?|indicators?|bulbs?|front|rear|brakes?|hub|steer|spring|seat|panel|step|mud\w*|bumper|body|axle|rail|air|shock|marker|fender|bank|batt?\w* (?:box|tray|cover|lid|cable|lead|split|cracked|leaking)\w*)\b)|\bo\/s\/?[fr]?\b|\bn\/s\b(?=.*\bo\/s\b)|(?<=\bo\/s\b.*)\bn\/s\b|(?<=\b(?:and|the|new|replaced|repld?|renewed|fitted) )n\/s\b|\b(?:near|off)side\b/g,
    ' ',
  ],
  [/\bn\/?s(?:t|nc)?\b(?! (?:sw|switch)\b)/g, ' no start '],
  [/\bn\/?crk?\b|\bno crk\b/g, ' no crank '],
  [/\bslo\/?w? ?crk\b/g, ' slow crank '],
  [/\bw\/n\b/g, ' will not '],
  [/\bn\.?f\.?f\b/g, ' no fault found '],
  [/\bju?mp[\s-]?(start|strt|pack|lead)/g, ' jump $1'],
  [/\bturn(?:s|ed|ing)? (?:the )?key[\s,-]+(?:and |but )?nothing\b/g, ' no start '],
  [/\binst(?:\.|\b)(?=\s*(?:$|[,;.]|new|reman|rmn|a |the |batt|start|str|strt|alt|\d))/g, ' installed '],
  [/\bpre[\s-]?lube\b/g, ' prelube '],
  [/\bs\/m(?:tr|otor)\b|\bs\/(?:mtr|motor)\b|\bstr\/mtr\b/g, ' starter motor '],
  [/\bs\/m\b/g, ' starter motor '],
  // What the starter's letters stand for unless they steer.
  [/(?<=\b(?:no|wont|not|hard|hrd|slow) )strt?\b/g, ' start '],
  [
    /(?<!\b(?:power|pwr|p|st) )\bstrt?r?\b(?! (?:wheel|box|gear|column|axle|pump|ty[ri]e|tire|shaft|arm|cyl\w*|ram|hose|rack|fluid|oil|up|button|in|but|ok|fine|good|after|when|at|on|from|first)\b)/g,
    ' starter ',
  ],
  [/\b(?:c|cl|clean(?:ed)?)\s?(?:[&/+]|n)\s?t(?:ight\w*)?\b|\bt\s?[&/+]\s?c\b/g, ' cleaned tightened '],
  [/\bx\/c(?:'?d)?\b|\bxch?\b/g, ' exchange '],
  [/\bj\/s\b|\bjs\b/g, ' jump start '],
  [/\bdisc(?:on?n?)?(?= (?:sw|switch)\b)/g, ' disconnect '],
  [/\bnss(?= |$)/g, ' neutral safety switch '],
  [
    /\b((?:starter|strtr|alt\w*|batt\w*|motor|mtr|solenoid|sol|relay|rly|switch|sw|lead|cable)s?)(?: is| was)? us\b(?! (?:army|navy))/g,
    '$1 unserviceable ',
  ],
  [/\bw\/\s?/g, ' with '],
  [/\brr(?= (?:the )?(?:new )?(?:starter|start|strtr|str|batt\w*|bats?|alt\w*)\b)/g, ' replaced '],
  // The full stop of an abbreviation ends no sentence: "batt. conn. loose".
  [
    /\b(batt?|ign|conn|neut|term|cyl|gnd|neg|pos)\.(?= (?:hold|box|tray|cover|cable|cbl|lead|term|conn|post|clamp|light|switch|sw|lock|cyl|key|safety|strap|loose|corroded|dead|bad|weak|flat|low|repl|changed|renewed)\w*\b)/g,
    '$1 ',
  ],
  // What was charged or repaired and then fitted is the old one.
  [
    /\b(charged|recharged|repaired|overhauled|rebuilt|cleaned|serviced)(?: by charger| up| over ?night)?(?: ?[&+,] ?| and | then )(?:re ?)?(?:fitted|installed|put back)\b/g,
    '$1 ',
  ],
  // As said in India: the self is the starter.
  [/\bself[\s-](?:starter|motor|start)\b(?! (?:stop|test))/g, ' starter '],
  [
    /(?<!\b(?:it|him|her|my|your|them|one|by|due to|its|own) )\bself\b(?!-| (?:test|service|check|adjust|propel|contain|load|tapping|diagnos|weakness|driv|lock|level|clean|start ?stop|help|discharg|regulat|steer|prim|bleed|retract|cancel|heal|seal|insur|employ|drive)\w*)/g,
    ' starter ',
  ],
  [/\bcarbon (?=brush)/g, ''],
  [/\bpark\s?\/\s?neutral\b|\bp\/n(?= (?:switch|sw)\b)/g, ' park neutral '],
  [
    /\b(?:crank|turn)(?:s|ed|ing)?(?: over)?(?: (?:ok|fine|good|well))?,? (?:but )?(?:no (?:fire|spark)|(?:wont|will not|would not|doesnt|does not) (?:catch|fire|light)\w*)\b/g,
    ' no start ',
  ],
  [/(?<=^\s*|[,;.] )rep\.? (?=(?:the )?(?:batt|bat|start|strtr|stater|alt|relay|cable|solen|neut))/g, ' replaced '],
  // "chgd" is changed, but where something was left on.
  [
    /\bchgd\b(?<=\b(?:left on|on all (?:nite|night)|on over ?night|ran down|run down)\b.*)|\bchgd (?=(?:up|ok|over ?night|for \d|\d+ ?h))/g,
    ' charged ',
  ],
  // Sizes of the Battery Council International: "two group 31".
  [
    /(?<=\b(?:new|one|two|three|four|both|with|fit(?:ted)?|in(?:stalled)?|install|replaced|of|\d|x)\s(?:new\s)?)(?:group|grp|gp|bci)\s?(?:24f?|27f?|31|34r?|35|36r?|4[1789]|51r?|58r?|65|75|78|94r?|4d|8d)s?\b/g,
    ' battery ',
  ],
  [/\b[48]ds?\b/g, ' battery '],
  // "starter / wiring": the wiring is the starter's.
  [
    /\b(start(?:e?r)?|strtr|batt?(?:ery|eries|s)?|alt(?:ernator)?)(\s(?:motor|mtr))?\s?(?:\/|&|\+|\band\b)\s?(wiring|harness|cables?|leads?)\b/g,
    '$1$2 / $1 $3',
  ],
  // Clamps that a shop makes itself hold the battery down; those of its posts are bought.
  [/\b(fabricat\w*\b.{0,30}?\bbatt?(?:ery|eries|s)?) clamps?\b/g, '$1 hold down'],
  [/(?<=[a-z]{3})\/(?=[a-z]{3})/g, ' / '],
];
