/** A date with a time of day that says no zone: in which one the clock stood, only a profile can say. */
export const ZONELESS = /^\d{4}-\d\d-\d\d[T ]\d\d:\d\d(?::\d\d(?:[.,]\d+)?)?$/i;

export const ZONE_REMEDY = 'give time.zone in a profile';
