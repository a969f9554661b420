CREATE TABLE `reading_corrections` (
	`correction_id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`unit` text NOT NULL,
	`work_order` text NOT NULL,
	`readings` text NOT NULL,
	`created_us` integer NOT NULL,
	`withdrawn_us` integer
);
--> statement-breakpoint
CREATE INDEX `reading_corrections_record` ON `reading_corrections` (`unit`,`work_order`);