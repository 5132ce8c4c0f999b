package org.evenwash.analysis.protocol;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * Every point on which a protocol can have something to say. The key is the word used in protocol
 * files; numbers carry their unit in it.
 */
public enum Point {
    BEES("bees", "bees in the sample", "bees"),
    BEES_COUNTED("bees_counted", "bees counted, not only estimated"),
    ORIGIN("origin", "where the bees came from", Kind.CHOICE, ""),
    FRAMES("frames", "frames the sample came from", "frames"),
    QUEEN_CHECK("queen_check", "queen looked for and not in the sample"),
    LIQUID("liquid", "washing liquid", Kind.CHOICE, ""),
    STRENGTH_PERCENT_VOL("strength_percentVol", "strength of the spirit", "%vol"),
    LIQUID_ML("liquid_mL", "volume of the liquid", "mL"),
    BEES_COVERED("bees_covered", "bees covered by the liquid"),
    SPIRIT_USES("spirit_uses", "washes this spirit had seen before", "washes"),
    AGITATION_S("agitation_s", "total agitation", "s"),
    AGITATION_CONFORMS("agitation_conforms", "agitation as its recipe asked"),
    SOAK_S("soak_s", "time in the liquid after agitation", "s"),
    BEE_SIEVE_MM("bee_sieve_mm", "opening of the sieve that holds the bees", "mm"),
    MITE_SIEVE_MM("mite_sieve_mm", "opening of the sieve that holds the mites", "mm"),
    JAR_WALLS_CHECKED("jar_walls_checked", "jar walls checked for mites"),
    RINSES("rinses", "rinses of the bees", "rinses"),
    WASHES("washes", "washes of the same bees", "washes"),
    FIRST_COUNT("first_count", "mites of the first wash counted"),
    RECOUNT("recount", "catch recounted blind"),
    RECOUNT_DIFFERENCE_MITES("recount_difference_mites", "count and blind recount apart", "mites"),
    SECOND_WASH("second_wash", "second wash done"),
    SECOND_WASH_PERCENT(
            "second_wash_percent", "share of the mites found only by the second wash", "%"),
    CARRY_OVER_MITES("carry_over_mites", "mites in a blank run of the spirit", "mites"),
    MEASURE_CALIBRATED("measure_calibrated", "bee measure calibrated with local bees"),
    MEASURE_AGE_DAYS("measure_age_days", "age of the bee measure's calibration", "days"),
    RECOVERY_DETERMINED("recovery_determined", "recovery of the method determined"),
    RECOVERY_AGE_DAYS("recovery_age_days", "age of the recovery calibration", "days");

    /** What sort of fact and limit a point takes. */
    public enum Kind {
        NUMBER,
        YES_NO,
        CHOICE
    }

    private final String key;
    private final String title;
    private final Kind kind;
    private final String unit;

    Point(String key, String title, String unit) {
        this(key, title, Kind.NUMBER, unit);
    }

    Point(String key, String title) {
        this(key, title, Kind.YES_NO, "");
    }

    Point(String key, String title, Kind kind, String unit) {
        this.key = key;
        this.title = title;
        this.kind = kind;
        this.unit = unit;
    }

    public String key() {
        return key;
    }

    public String title() {
        return title;
    }

    public Kind kind() {
        return kind;
    }

    /** Empty unless the point is a number. */
    public String unit() {
        return unit;
    }

    /** A number with its unit, singular where it is one: "1 mite", "0.5 mm". */
    String counted(double value) {
        String counted = value == 1 ? unit.replaceFirst("(?<=wash)es$|(?<=[a-z]{2})s$", "") : unit;
        return Numbers.plain(value) + " " + counted;
    }

    /** The words that a choice can be; empty for numbers and yes-or-no points. */
    public List<String> choices() {
        if (this == ORIGIN) {
            return words(Origin.values());
        }
        return this == LIQUID ? words(Liquid.values()) : List.of();
    }

    private static List<String> words(Word[] vocabulary) {
        return Arrays.stream(vocabulary).map(Word::word).toList();
    }

    public static Optional<Point> ofKey(String key) {
        return Arrays.stream(values()).filter(point -> point.key.equals(key)).findFirst();
    }

    /** A fixed vocabulary used in files. */
    interface Word {
        String word();
    }

    /** Where a sample of bees can come from. */
    public enum Origin implements Word {
        BROOD_NEST("brood-nest"),
        BROOD_BOX("brood-box"),
        HONEY_SUPER("honey-super"),
        ENTRANCE("entrance"),
        OTHER("other");

        private final String word;

        Origin(String word) {
            this.word = word;
        }

        @Override
        public String word() {
            return word;
        }
    }

    /** What bees can be washed in. */
    public enum Liquid implements Word {
        ETHANOL("ethanol"),
        METHYLATED_SPIRIT("methylated-spirit"),
        RUBBING_ALCOHOL("rubbing-alcohol"),
        SOAPY_WATER("soapy-water"),
        OTHER("other");

        private final String word;

        Liquid(String word) {
            this.word = word;
        }

        @Override
        public String word() {
            return word;
        }

        boolean hasStrength() {
            return this != SOAPY_WATER && this != OTHER;
        }
    }
}
