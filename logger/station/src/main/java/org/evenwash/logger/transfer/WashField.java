package org.evenwash.logger.transfer;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * What a column of old records may hold. A file is mapped onto these by its owner; the words beside
 * each are only for a first suggestion.
 */
public enum WashField {
    DAY("date", "day", "tag", "sampled on", "sample date", "datum", "fecha", "jour"),
    APIARY(
            "apiary",
            "yard",
            "site",
            "location",
            "bienenstand",
            "standort",
            "stand",
            "rucher",
            "apiario"),
    COLONY("colony", "hive", "colony id", "hive id", "volk", "beute", "ruche", "colmena", "kasten"),
    OPERATOR("operator", "sampled by", "sampler", "technician", "beekeeper", "person", "initials"),
    FRAME("frame", "bees from", "sampled from"),
    QUEEN_CHECK("queen check", "queen", "queen seen"),
    BEES(
            "bees",
            "number of bees",
            "bees washed",
            "sample size",
            "bees by weight",
            "bienen",
            "abeilles",
            "abejas"),
    BEE_MEASURE("bee measure", "bees measured by", "how bees were measured"),
    BEES_LOG_SD("bees log sd"),
    SAMPLE_MASS("sample mass g", "sample mass", "sample weight", "mass", "weight", "gewicht"),
    BEES_COUNTED_BY("bees counted by"),
    MITES("mites", "mite count", "mites counted", "varroa", "milben", "varroas", "acaros"),
    COUNTED_BY("counted by", "counter", "mites counted by"),
    RECOUNT_MITES("recount mites", "recount", "second count"),
    RECOUNTED_BY("recounted by"),
    RECOUNT_BLIND("recount blind", "blind"),
    SECOND_MITES("second mites", "second wash mites", "second wash", "mites second wash"),
    SECOND_COUNTED_BY("second counted by"),
    BLANK_MITES("blank mites", "blank"),
    BLANK_COUNTED_BY("blank counted by"),
    HAND_AGITATION(
            "hand agitation s",
            "agitation",
            "shaking time",
            "shaken for",
            "agitation time",
            "schüttelzeit"),
    SPIRIT("spirit", "spirit batch", "wash fluid", "liquid", "alcohol"),
    RINSES("rinses", "number of rinses"),
    FRAMES("frames", "number of frames", "waben", "cadres", "cuadros"),
    LIQUID_ML("liquid ml", "liquid volume", "volume ml"),
    BEES_COVERED("bees covered", "covered"),
    BEE_SIEVE_MM("bee sieve mm", "bee sieve", "upper sieve"),
    MITE_SIEVE_MM("mite sieve mm", "mite sieve", "lower sieve"),
    JAR_WALLS_CHECKED("jar walls checked", "jar checked", "walls checked"),
    TIMES_WASHED("times washed", "number of washes", "washes"),
    REMARKS("remarks", "notes", "comment", "comments", "bemerkung", "remarques", "notas"),
    SIMULATED("simulated"),
    WASH_ID("wash id");

    /** In one text: an enum holds nothing that could change. */
    private final String known;

    WashField(String... known) {
        this.known = String.join("\n", known);
    }

    /** How it is called on the command line and in the HTTP interface, such as {@code queen-check}. */
    public String key() {
        return name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    public static Optional<WashField> of(String key) {
        return Arrays.stream(values()).filter(one -> one.key().equals(key)).findAny();
    }

    /** Without them a row is no wash. */
    public boolean required() {
        return this == DAY || this == COLONY;
    }

    /** Those that most old records have; the others are out of the way until they are wanted. */
    public boolean usual() {
        return switch (this) {
            case DAY,
                    APIARY,
                    COLONY,
                    OPERATOR,
                    BEES,
                    MITES,
                    SECOND_MITES,
                    HAND_AGITATION,
                    SPIRIT,
                    REMARKS ->
                    true;
            case FRAME,
                    QUEEN_CHECK,
                    BEE_MEASURE,
                    BEES_LOG_SD,
                    SAMPLE_MASS,
                    BEES_COUNTED_BY,
                    COUNTED_BY,
                    RECOUNT_MITES,
                    RECOUNTED_BY,
                    RECOUNT_BLIND,
                    SECOND_COUNTED_BY,
                    BLANK_MITES,
                    BLANK_COUNTED_BY,
                    RINSES,
                    FRAMES,
                    LIQUID_ML,
                    BEES_COVERED,
                    BEE_SIEVE_MM,
                    MITE_SIEVE_MM,
                    JAR_WALLS_CHECKED,
                    TIMES_WASHED,
                    SIMULATED,
                    WASH_ID ->
                    false;
        };
    }

    /** How well a heading fits, 0 for not at all; an earlier word fits better. */
    int fit(String heading) {
        List<String> all = known.lines().toList();
        int place = all.indexOf(words(heading));
        return place < 0 ? 0 : all.size() - place;
    }

    static String words(String heading) {
        return heading.toLowerCase(Locale.ROOT).replaceAll("[^\\p{L}\\p{N}]+", " ").strip();
    }
}
