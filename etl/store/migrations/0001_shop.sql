CREATE TABLE `bay_rows` (
	`import_id` integer NOT NULL,
	`line` integer NOT NULL,
	`content_hash` text NOT NULL,
	`depot` text NOT NULL,
	`bay` text NOT NULL,
	`weekday` integer NOT NULL,
	`hours` real NOT NULL,
	PRIMARY KEY(`import_id`, `line`),
	FOREIGN KEY (`import_id`) REFERENCES `imports`(`import_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE TABLE `bench_result_rows` (
	`import_id` integer NOT NULL,
	`line` integer NOT NULL,
	`content_hash` text NOT NULL,
	`unit` text NOT NULL,
	`position` text NOT NULL,
	`time_us` integer NOT NULL,
	`test` text NOT NULL,
	`value` real NOT NULL,
	`note` text,
	`entered_us` integer,
	PRIMARY KEY(`unit`, `import_id`, `line`),
	FOREIGN KEY (`import_id`) REFERENCES `imports`(`import_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE INDEX `bench_result_rows_import` ON `bench_result_rows` (`import_id`);--> statement-breakpoint
CREATE TABLE `shop_visit_rows` (
	`import_id` integer NOT NULL,
	`line` integer NOT NULL,
	`content_hash` text NOT NULL,
	`unit` text NOT NULL,
	`visit_on` text NOT NULL,
	`depot` text NOT NULL,
	`reason` text,
	PRIMARY KEY(`unit`, `import_id`, `line`),
	FOREIGN KEY (`import_id`) REFERENCES `imports`(`import_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE INDEX `shop_visit_rows_import` ON `shop_visit_rows` (`import_id`);--> statement-breakpoint
CREATE TABLE `trouble_code_rows` (
	`import_id` integer NOT NULL,
	`line` integer NOT NULL,
	`content_hash` text NOT NULL,
	`unit` text NOT NULL,
	`position` text NOT NULL,
	`time_us` integer NOT NULL,
	`code` text,
	`spn` integer,
	`fmi` integer,
	PRIMARY KEY(`unit`, `import_id`, `line`, `content_hash`),
	FOREIGN KEY (`import_id`) REFERENCES `imports`(`import_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE INDEX `trouble_code_rows_import` ON `trouble_code_rows` (`import_id`);--> statement-breakpoint
ALTER TABLE `crank_rows` ADD `crank_amps` real;--> statement-breakpoint
ALTER TABLE `crank_rows` ADD `control_volts` real;--> statement-breakpoint
ALTER TABLE `crank_rows` ADD `control_dropouts` real;--> statement-breakpoint
ALTER TABLE `crank_rows` ADD `relative_compression` real;