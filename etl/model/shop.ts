/** Hours that a bay of a depot is open on one day of the week (1 = Monday … 7). */
export type Bay = { depot: string; bay: string; weekday: number; hours: number };

/** A day on which a unit is planned to stand in a depot's shop. */
export type ShopVisit = { unit: string; visitOn: string; depot: string; reason: string | null };
