-- A study reads hundreds of second washes: what it needs of a pass and of a cycle's jar stands in the index.
DROP INDEX pass_second;
CREATE INDEX pass_second ON pass (wash_id, id, hand_agitation_s) WHERE kind = 'SECOND';
DROP INDEX pass_cycle_by_pass;
CREATE INDEX pass_cycle_by_pass ON pass_cycle (pass_id, cycle_id);
