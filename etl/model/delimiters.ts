/** Marks between columns that a text file may have. Apart from the profile's schema, whose library readers do not need. */
export const DELIMITERS = [',', ';', '\t', '|'] as const;
