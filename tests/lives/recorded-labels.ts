import type { Component, RepairEvent } from '../../etl/model/words.ts';

/** What a record says: `component event position`, as the reader's rows. */
export type Label = `${Component | 'none'} ${RepairEvent}` | `${Component | 'none'} ${RepairEvent} ${'left' | 'right'}`;

/**
 * The recorded work orders read by hand, all 2,094 of them: those that touch starting, batteries, cables, charging or the
 * start circuit, by number. A fault for which parts were paid and nothing else is said counts as a repair; what holds the
 * battery down, and the pump that lubricates before a start, belong to neither battery nor starter.
 */
const LABELLED: readonly [Label, string][] = [
  ['battery jump_started', '912 916 918-920 926-927 931-934 937 939 944 987 991 993-994 997 1102-1103 1105-1110'],
  ['battery jump_started left', '992'],
  ['battery jump_started right', '992'],
  ['battery replaced', '913 921 924 928 938'],
  ['battery no_start', '914 942'],
  ['none no_start', '629 636 911 915 917 923 925 935-936 940-941 1095 1097'],
  ['none no_start left', '943 995 1091 1096 1098-1099 1104'],
  ['none no_start right', '930 1090-1091'],
  ['starter replaced', '929'],
  ['starter replaced left', '988 990 1094'],
  ['starter replaced right', '1100'],
  ['starter repaired right', '1093 3902'],
  ['cables repaired right', '1093 3902'],
  ['cables repaired', '922 3439 3784 3924'],
  ['charging repaired', '1092 3463 3546-3547'],
  ['charging repaired right', '989'],
  ['charging inspected right', '1101'],
  ['control repaired', '3541 3545 3549'],
];

/** Tempting others: they name a start, charge, cable, key, switch, relay, lamp, wiring, solenoid, shutdown or clamp. */
export const TEMPTING = numbersOf(
  `138 562 630 634 638 641 643 715 717 722-723 737 740 742 744 864 866 871 874 876 879 881 886 888 891 900-901 903 996
   1164 1199 1313 1328 1330 1332 1352 1481 1489 1492-1493 1497 1513 1673 1720 1766-1767 1771-1772 1785 1966 2004 2022
   2040 2042 2054 2058 2093 2099 2109 2482 2484 2504 2560-2562 2687-2688 2871 2890 2929 2934 2949-2950 2965 2968
   2979-2981 3269 3276-3277 3285 3300 3436 3456-3459 3461-3462 3464-3467 3469 3534 3539-3540 3542 3548 3550 3580-3582
   3586 3588 3591 3593 3596 3598-3600 3603 3605 3670-3674 3676-3677 3679-3682 3689 3691 3697 3763 3779 3782 3788-3789
   3904-3905 3909-3911 3914 3925 4015 4135 4138 4487 4529-4530 4533-4534 4537-4538 4543-4545 4548 4576-4577 4635
   4639-4640 4643 4648 4658 4808 4841 4844 4848 4852-4853 4856 4864 4871 4882 4945 4949 4954 4962-4966 4988-4990
   4992-4999 5044-5050 5052 5055 5143 5150 5177 5227 5247 5311 5318 5336 5350-5351 5479 5481 5485`,
);

/** Labels by work order number; one that is not here is about something else. */
export const RECORDED_LABELS: ReadonlyMap<string, readonly Label[]> = byNumber();

function byNumber(): Map<string, Label[]> {
  const labels = new Map<string, Label[]>();
  for (const [label, numbers] of LABELLED)
    for (const number of numbersOf(numbers)) labels.set(number, [...(labels.get(number) ?? []), label]);
  return labels;
}

/** `912 918-920` → W00912, W00918, W00919, W00920. */
function numbersOf(ranges: string): string[] {
  return ranges.split(/\s+/).flatMap((range) => {
    const [from, to = from] = range.split('-').map(Number) as [number, number?];
    return Array.from({ length: to - from + 1 }, (_, index) => `W${String(from + index).padStart(5, '0')}`);
  });
}
