package org.evenwash.logger.transfer;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.Month;
import java.time.format.TextStyle;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * In which order a file writes year, month and day; what stands between them, and an hour after them,
 * does not matter. A year of two digits is read as POSIX reads it: 69 to 99 as 19.., 00 to 68 as 20..
 * (IEEE Std 1003.1, strptime, %y).
 */
public enum DayOrder {
    YEAR_MONTH_DAY("2031-07-09"),
    DAY_MONTH_YEAR("09.07.2031"),
    MONTH_DAY_YEAR("07/09/2031"),
    /** Days counted from one that the plan names, as in a trial. */
    DAY_NUMBER("21");

    private static final Pattern PARTS =
            Pattern.compile(
                    "(\\d{1,4})[-./ ]+(\\d{1,2}|\\p{L}{3,9})\\.?[-./ ,]+(\\d{1,4})(?:[T ]+\\d{1,2}:.*)?");
    private static final Pattern NUMBER = Pattern.compile("\\d{1,5}");
    private static final Pattern COMPACT = Pattern.compile("(\\d{4})(\\d{2})(\\d{2})");

    private final String example;

    DayOrder(String example) {
        this.example = example;
    }

    public String example() {
        return example;
    }

    /**
     * Empty where the text is no such day.
     *
     * @param dayZero which day has the number 0, where days are numbered
     */
    Optional<LocalDate> read(String text, LocalDate dayZero) {
        if (this == DAY_NUMBER) {
            return NUMBER.matcher(text).matches()
                    ? Optional.of(dayZero.plusDays(Long.parseLong(text)))
                    : Optional.empty();
        }
        Matcher parts = PARTS.matcher(text);
        if (!parts.matches()) {
            parts = COMPACT.matcher(text);
            if (this != YEAR_MONTH_DAY || !parts.matches()) {
                return Optional.empty();
            }
        }
        String first = parts.group(1);
        String second = parts.group(2);
        String third = parts.group(3);
        return switch (this) {
            case YEAR_MONTH_DAY ->
                    first.length() == 4 ? day(first, second, third) : Optional.empty();
            case DAY_MONTH_YEAR -> day(third, second, first);
            // A month in letters stands where it stands: 9 Jul 2031 is plain in any order.
            case MONTH_DAY_YEAR ->
                    Character.isLetter(second.charAt(0))
                            ? day(third, second, first)
                            : day(third, first, second);
            case DAY_NUMBER -> Optional.empty();
        };
    }

    private static Optional<LocalDate> day(String year, String month, String day) {
        if (day.length() > 2 || month.isEmpty() || year.length() == 3 || year.length() == 1) {
            return Optional.empty();
        }
        try {
            return Optional.of(LocalDate.of(year(year), month(month), Integer.parseInt(day)));
        } catch (DateTimeException | NumberFormatException noDay) {
            return Optional.empty();
        }
    }

    private static int year(String text) {
        int year = Integer.parseInt(text);
        if (text.length() == 4) {
            return year;
        }
        return year + (year >= 69 ? 1900 : 2000);
    }

    private static int month(String text) {
        if (!Character.isLetter(text.charAt(0))) {
            return Integer.parseInt(text);
        }
        for (Month month : Month.values()) {
            String name = month.getDisplayName(TextStyle.FULL, Locale.ENGLISH);
            if (name.regionMatches(true, 0, text, 0, text.length())) {
                return month.getValue();
            }
        }
        throw new DateTimeException("no month " + text);
    }
}
