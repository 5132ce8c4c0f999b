package org.evenwash.logger.wash;

import java.time.LocalDate;
import org.evenwash.logger.store.Hemisphere;

/**
 * Phase of a colony's year by the calendar alone: common practice, no source. A warm winter, a flow or a
 * latitude moves it, so nothing is decided by it but how often to wash.
 */
public enum Season {
    /** November to February in the north. */
    DORMANT,
    /** March to May in the north. */
    INCREASE,
    /** June and July in the north. */
    PEAK,
    /** August to October in the north. */
    DECREASE;

    private static final int HALF_A_YEAR = 6;

    /** The south is half a year ahead. */
    public static Season on(LocalDate day, Hemisphere hemisphere) {
        LocalDate asInTheNorth =
                switch (hemisphere) {
                    case NORTHERN -> day;
                    case SOUTHERN -> day.plusMonths(HALF_A_YEAR);
                };
        return switch (asInTheNorth.getMonth()) {
            case NOVEMBER, DECEMBER, JANUARY, FEBRUARY -> DORMANT;
            case MARCH, APRIL, MAY -> INCREASE;
            case JUNE, JULY -> PEAK;
            case AUGUST, SEPTEMBER, OCTOBER -> DECREASE;
        };
    }
}
