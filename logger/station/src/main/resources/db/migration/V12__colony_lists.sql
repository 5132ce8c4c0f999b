-- Lists that stay fast with years of washes: only washes that count are in these two, so that "the page
-- before this wash" and "how many" are answered without reading the washes themselves.
CREATE INDEX wash_listed ON wash (sampled_on, planned_at, id) WHERE removed_at IS NULL;
CREATE INDEX wash_listed_by_apiary ON wash (apiary_id, sampled_on, planned_at, id) WHERE removed_at IS NULL;
DROP INDEX wash_by_day;
DROP INDEX wash_by_apiary;

-- A colony that was joined by another, or made from one, has that in its history too.
CREATE INDEX colony_event_by_other ON colony_event (other_colony_id);
