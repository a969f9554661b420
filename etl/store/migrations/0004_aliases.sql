CREATE TABLE `unit_aliases` (
	`alias_id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`spelling` text NOT NULL,
	`unit` text NOT NULL,
	`created_us` integer NOT NULL,
	`withdrawn_us` integer
);
--> statement-breakpoint
CREATE INDEX `unit_aliases_spelling` ON `unit_aliases` (`spelling`);--> statement-breakpoint
CREATE INDEX `unit_aliases_unit` ON `unit_aliases` (`unit`);