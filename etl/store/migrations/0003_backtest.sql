CREATE TABLE `backtest_forecasts` (
	`backtest_id` integer NOT NULL,
	`seq` integer NOT NULL,
	`as_of_on` text NOT NULL,
	`unit` text NOT NULL,
	`position` text NOT NULL,
	`component` text NOT NULL,
	`part_since_on` text NOT NULL,
	`p_fail` real NOT NULL,
	`window_early_on` text,
	`window_mid_on` text,
	`window_late_on` text,
	`failed_within` integer,
	`failed_on` text,
	`end` text NOT NULL,
	`followed_to_on` text NOT NULL,
	`p_fail_by_end` real NOT NULL,
	`p_fail_by_end_of_age` real NOT NULL,
	`base_rate` real NOT NULL,
	`age_only` real NOT NULL,
	`below_threshold` integer NOT NULL,
	`last_value` real,
	PRIMARY KEY(`backtest_id`, `unit`, `seq`),
	FOREIGN KEY (`backtest_id`) REFERENCES `backtests`(`backtest_id`) ON UPDATE no action ON DELETE no action
);
--> statement-breakpoint
CREATE TABLE `backtests` (
	`backtest_id` integer PRIMARY KEY AUTOINCREMENT NOT NULL,
	`state` text NOT NULL,
	`saver` text NOT NULL,
	`computed_us` integer NOT NULL,
	`inputs` text NOT NULL,
	`summary` text NOT NULL
);
