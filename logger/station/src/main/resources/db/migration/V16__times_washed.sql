-- How often the same bees were washed in all: the passes know a first and a second wash, and a guide asks
-- for three. NULL was not stated.
ALTER TABLE wash ADD COLUMN times_washed INTEGER CHECK (times_washed > 0);
