CREATE TABLE `unreadable_files` (
	`file` text PRIMARY KEY NOT NULL,
	`reason` text NOT NULL
);
