/** A trouble code that a control unit has stored: by SAE J2012 (`code`) or by SAE J1939 (`spn` and `fmi`). */
export type TroubleCode = {
  unit: string;
  position: string;
  timeUs: number;
  code: string | null;
  spn: number | null;
  fmi: number | null;
};
