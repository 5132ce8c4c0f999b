package org.evenwash.logger.transfer;

import java.time.LocalDate;
import java.util.EnumMap;
import java.util.Map;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.Hemisphere;

/**
 * How a file is read: which column holds what, and what holds for all its rows.
 *
 * @param separator between cells: {@code ,} {@code ;} or tab
 * @param decimalComma whether numbers are written 1,5 rather than 1.5
 * @param dayZero which day has the number 0 where days are numbered, else null
 * @param columns place of each column, from 0
 * @param apiary of rows whose own column names none, null for none
 * @param timeZone of apiaries that have to be made, an IANA name
 * @param beeMeasure of rows that do not say
 * @param frame of rows that do not say
 * @param keepOthers whether columns that are mapped to nothing are kept in the remarks
 */
public record ImportPlan(
        char separator,
        boolean decimalComma,
        DayOrder dayOrder,
        LocalDate dayZero,
        Map<WashField, Integer> columns,
        String apiary,
        String timeZone,
        Hemisphere hemisphere,
        BeeMeasure beeMeasure,
        Frame frame,
        AgitationUnit agitationUnit,
        MassUnit massUnit,
        boolean keepOthers) {
    public ImportPlan {
        columns = columns.isEmpty() ? Map.of() : Map.copyOf(new EnumMap<>(columns));
    }

    /** How long a wash was shaken is written in these. */
    public enum AgitationUnit {
        SECONDS(1),
        MINUTES(60);

        private final double seconds;

        AgitationUnit(double seconds) {
            this.seconds = seconds;
        }

        double seconds(double value) {
            return value * seconds;
        }
    }

    /** A sample's mass is written in these; an avoirdupois ounce is 28.349523125 g (NIST SP 811, B.8). */
    public enum MassUnit {
        GRAMS(1),
        KILOGRAMS(1_000),
        OUNCES(28.349_523_125);

        private final double grams;

        MassUnit(double grams) {
            this.grams = grams;
        }

        double grams(double value) {
            return value * grams;
        }
    }
}
