CREATE TABLE `unit_distinctions` (
	`distinction_id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`unit` text NOT NULL,
	`other` text NOT NULL,
	`created_us` integer NOT NULL,
	`withdrawn_us` integer
);
