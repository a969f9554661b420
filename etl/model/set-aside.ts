/** A row that could not be used, with everything a person needs to find and mend it. */
export type SetAside = {
  /** 1-based line of the file; 0 where the file as a whole is meant. */
  line: number;
  field: string;
  /** The value as written, shortened to 200 characters. */
  value: string;
  /** `<what> requires <condition>`, in words a foreman understands. */
  reason: string;
};

/** Thrown when a file as a whole cannot be read. Message: `<what> requires <condition>, got <value> (<where>)`. */
export class UnreadableFile extends Error {
  override name = 'UnreadableFile';
}
