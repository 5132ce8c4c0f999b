-- What protocols ask of a wash beside its counts. NULL was not stated: "no" has to be said.
ALTER TABLE wash ADD COLUMN frames INTEGER CHECK (frames > 0);
ALTER TABLE wash ADD COLUMN liquid_ml DOUBLE PRECISION CHECK (liquid_ml > 0);
ALTER TABLE wash ADD COLUMN bees_covered BOOLEAN;
ALTER TABLE wash ADD COLUMN bee_sieve_mm DOUBLE PRECISION CHECK (bee_sieve_mm > 0);
ALTER TABLE wash ADD COLUMN mite_sieve_mm DOUBLE PRECISION CHECK (mite_sieve_mm > 0);
ALTER TABLE wash ADD COLUMN jar_walls_checked BOOLEAN;

-- The sieves in use at a place. A wash planned there takes them over, so that buying others changes no
-- verdict on an earlier wash.
ALTER TABLE apiary ADD COLUMN bee_sieve_mm DOUBLE PRECISION CHECK (bee_sieve_mm > 0);
ALTER TABLE apiary ADD COLUMN mite_sieve_mm DOUBLE PRECISION CHECK (mite_sieve_mm > 0);
