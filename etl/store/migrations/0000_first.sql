CREATE TABLE `assessments` (
	`assessment_id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`as_of_label` text NOT NULL,
	`as_of_us` integer NOT NULL,
	`as_of_on` text NOT NULL,
	`state` text NOT NULL,
	`saver` text NOT NULL,
	`computed_us` integer NOT NULL,
	`inputs` text NOT NULL,
	`fleet` text,
	`ranking_settings` text
);
--> statement-breakpoint
CREATE INDEX `assessments_as_of` ON `assessments` (`as_of_label`);--> statement-breakpoint
CREATE TABLE `crank_blocks` (
	`engine_id` integer PRIMARY KEY NOT NULL,
	`mark` integer,
	`layout` text NOT NULL,
	`count` integer NOT NULL,
	`columns` blob NOT NULL
);
--> statement-breakpoint
CREATE TABLE `lives` (
	`assessment_id` integer NOT NULL,
	`seq` integer NOT NULL,
	`unit` text NOT NULL,
	`position` text NOT NULL,
	`component` text NOT NULL,
	`fitted_on` text,
	`fitted_from` text NOT NULL,
	`removed_on` text,
	`end` text NOT NULL,
	`watched_from_on` text NOT NULL,
	`watched_to_on` text NOT NULL,
	`work_order` text NOT NULL,
	PRIMARY KEY(`assessment_id`, `unit`, `seq`),
	FOREIGN KEY (`assessment_id`) REFERENCES `assessments`(`assessment_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE TABLE `outlooks` (
	`assessment_id` integer NOT NULL,
	`seq` integer NOT NULL,
	`unit` text NOT NULL,
	`position` text NOT NULL,
	`component` text NOT NULL,
	`age_days` real,
	`p_fail_30d` real,
	`p_fail_60d` real,
	`p_fail_90d` real,
	`window_early_on` text,
	`window_mid_on` text,
	`window_late_on` text,
	`basis` text NOT NULL,
	`evidence` text NOT NULL,
	`survival` blob,
	`mean_life_days` real,
	PRIMARY KEY(`assessment_id`, `unit`, `seq`),
	FOREIGN KEY (`assessment_id`) REFERENCES `assessments`(`assessment_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE TABLE `rankings` (
	`assessment_id` integer NOT NULL,
	`seq` integer NOT NULL,
	`unit` text NOT NULL,
	`position` text NOT NULL,
	`rank` integer NOT NULL,
	`depot` text NOT NULL,
	`component` text NOT NULL,
	`action` text NOT NULL,
	`act_by_on` text,
	`p_fail_to_next_visit` real,
	`cost_now_minor` integer,
	`cost_of_waiting_minor` integer,
	`road_call_risk` real,
	`next_visit_on` text NOT NULL,
	`next_visit_from` text NOT NULL,
	`reason` text NOT NULL,
	PRIMARY KEY(`assessment_id`, `unit`, `seq`),
	FOREIGN KEY (`assessment_id`) REFERENCES `assessments`(`assessment_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE TABLE `stale_engines` (
	`engine_id` integer PRIMARY KEY NOT NULL,
	`mark` integer NOT NULL
);
--> statement-breakpoint
CREATE TABLE `trends` (
	`assessment_id` integer NOT NULL,
	`seq` integer NOT NULL,
	`unit` text NOT NULL,
	`position` text NOT NULL,
	`component` text NOT NULL,
	`indicator` text NOT NULL,
	`level` real,
	`slope_per_year` real,
	`slope_low` real,
	`slope_high` real,
	`sen_slope_per_year` real,
	`p_value` real,
	`n` integer NOT NULL,
	`since_on` text,
	`residual` real,
	`standing` text NOT NULL,
	PRIMARY KEY(`assessment_id`, `unit`, `seq`),
	FOREIGN KEY (`assessment_id`) REFERENCES `assessments`(`assessment_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE TABLE `crank_rows` (
	`engine_id` integer NOT NULL,
	`time_us` integer NOT NULL,
	`import_id` integer NOT NULL,
	`line` integer NOT NULL,
	`source` real,
	`rest_volts` real,
	`dip_volts` real,
	`crank_volts` real,
	`charge_volts` real,
	`crank_seconds` real,
	`ripple_hz` real,
	`ripple_other_hz` real,
	`logged_rpm` real,
	`amps_peak` real,
	`temp_c` real,
	`dropouts` real,
	`dropout_seconds` real,
	`outcome` real,
	`quality` real,
	`form` real,
	`rate_hz` real,
	`battery_ohms` real,
	`loop_ohms` real,
	PRIMARY KEY(`import_id`, `engine_id`, `time_us`, `line`)
) WITHOUT ROWID;
--> statement-breakpoint
CREATE TABLE `engines` (
	`engine_id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`unit` text NOT NULL,
	`position` text NOT NULL
);
--> statement-breakpoint
CREATE UNIQUE INDEX `engines_unit_position` ON `engines` (`unit`,`position`);--> statement-breakpoint
CREATE TABLE `import_engines` (
	`import_id` integer NOT NULL,
	`engine_id` integer NOT NULL,
	`rows` integer NOT NULL,
	PRIMARY KEY(`import_id`, `engine_id`),
	FOREIGN KEY (`import_id`) REFERENCES `imports`(`import_id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`engine_id`) REFERENCES `engines`(`engine_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE INDEX `import_engines_engine` ON `import_engines` (`engine_id`);--> statement-breakpoint
CREATE TABLE `import_files` (
	`import_id` integer NOT NULL,
	`file` text NOT NULL,
	PRIMARY KEY(`import_id`, `file`),
	FOREIGN KEY (`import_id`) REFERENCES `imports`(`import_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE TABLE `imports` (
	`import_id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`kind` text NOT NULL,
	`sha256` text,
	`bytes` integer NOT NULL,
	`profile` text NOT NULL,
	`reader` text NOT NULL,
	`reader_version` integer NOT NULL,
	`state` text NOT NULL,
	`loader` text NOT NULL,
	`taken` integer NOT NULL,
	`set_aside` integer NOT NULL,
	`unknown_columns` text NOT NULL,
	`loaded_us` integer
);
--> statement-breakpoint
CREATE INDEX `imports_sha256` ON `imports` (`sha256`);--> statement-breakpoint
CREATE TABLE `part_rows` (
	`import_id` integer NOT NULL,
	`line` integer NOT NULL,
	`content_hash` text NOT NULL,
	`unit` text NOT NULL,
	`component` text NOT NULL,
	`position` text NOT NULL,
	`fitted_on` text NOT NULL,
	`part` text,
	`rating` text,
	`warranty_until_on` text,
	`cost_minor` integer,
	`entered_us` integer,
	PRIMARY KEY(`unit`, `import_id`, `line`),
	FOREIGN KEY (`import_id`) REFERENCES `imports`(`import_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE INDEX `part_rows_import` ON `part_rows` (`import_id`);--> statement-breakpoint
CREATE TABLE `set_aside_rows` (
	`import_id` integer NOT NULL,
	`seq` integer NOT NULL,
	`line` integer NOT NULL,
	`field` text NOT NULL,
	`value` text NOT NULL,
	`reason` text NOT NULL,
	PRIMARY KEY(`import_id`, `seq`),
	FOREIGN KEY (`import_id`) REFERENCES `imports`(`import_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE TABLE `unit_rows` (
	`import_id` integer NOT NULL,
	`line` integer NOT NULL,
	`content_hash` text NOT NULL,
	`unit` text NOT NULL,
	`depot` text NOT NULL,
	`class` text NOT NULL,
	`system_volts` integer NOT NULL,
	`battery_count` integer NOT NULL,
	`battery_cca_a` real NOT NULL,
	`cylinders` integer NOT NULL,
	`fuel` text,
	`vin` text,
	`in_service_on` text,
	`out_of_service_on` text,
	`next_pm_on` text,
	`pm_interval_days` real,
	`starts_per_day` real,
	`starter_rated_kw` real,
	`cost_centre` text,
	`entered_us` integer,
	PRIMARY KEY(`unit`, `import_id`, `line`),
	FOREIGN KEY (`import_id`) REFERENCES `imports`(`import_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE INDEX `unit_rows_import` ON `unit_rows` (`import_id`);--> statement-breakpoint
CREATE TABLE `waveforms` (
	`engine_id` integer NOT NULL,
	`crank_us` integer NOT NULL,
	`import_id` integer NOT NULL,
	`sample_count` integer NOT NULL,
	`samples` blob NOT NULL,
	PRIMARY KEY(`engine_id`, `crank_us`, `import_id`),
	FOREIGN KEY (`engine_id`) REFERENCES `engines`(`engine_id`) ON UPDATE no action ON DELETE no action,
	FOREIGN KEY (`import_id`) REFERENCES `imports`(`import_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE INDEX `waveforms_import` ON `waveforms` (`import_id`);--> statement-breakpoint
CREATE TABLE `work_order_rows` (
	`import_id` integer NOT NULL,
	`line` integer NOT NULL,
	`content_hash` text NOT NULL,
	`work_order` text NOT NULL,
	`unit` text NOT NULL,
	`position` text NOT NULL,
	`opened_us` integer NOT NULL,
	`closed_us` integer,
	`entered_us` integer,
	`odometer_km` real,
	`engine_hours` real,
	`complaint` text,
	`cause` text,
	`correction` text,
	`system_code` text,
	`road_call` integer,
	`parts_cost_minor` integer,
	`labor_hours` real,
	`labor_cost_minor` integer,
	`downtime_hours` real,
	PRIMARY KEY(`unit`, `import_id`, `line`),
	FOREIGN KEY (`import_id`) REFERENCES `imports`(`import_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE INDEX `work_order_rows_import` ON `work_order_rows` (`import_id`);--> statement-breakpoint
CREATE TABLE `bookings` (
	`booking_id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`unit` text NOT NULL,
	`position` text NOT NULL,
	`component` text NOT NULL,
	`booked_on` text NOT NULL,
	`note` text NOT NULL,
	`created_us` integer NOT NULL,
	`withdrawn_us` integer
);
--> statement-breakpoint
CREATE TABLE `deferrals` (
	`deferral_id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`unit` text NOT NULL,
	`position` text NOT NULL,
	`component` text NOT NULL,
	`until_on` text NOT NULL,
	`reason` text NOT NULL,
	`created_us` integer NOT NULL,
	`withdrawn_us` integer
);
--> statement-breakpoint
CREATE TABLE `settings` (
	`name` text PRIMARY KEY NOT NULL,
	`value` text NOT NULL
);
