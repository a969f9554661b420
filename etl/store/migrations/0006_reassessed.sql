CREATE TABLE `reassessed_units` (
	`assessment_id` integer NOT NULL,
	`unit` text NOT NULL,
	`as_of_label` text NOT NULL,
	`as_of_us` integer NOT NULL,
	`as_of_on` text NOT NULL,
	`computed_us` integer NOT NULL,
	PRIMARY KEY(`assessment_id`, `unit`),
	FOREIGN KEY (`assessment_id`) REFERENCES `assessments`(`assessment_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
ALTER TABLE `assessments` ADD `reassessed_us` integer;