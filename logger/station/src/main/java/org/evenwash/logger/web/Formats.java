package org.evenwash.logger.web;

import java.math.BigDecimal;
import java.text.DecimalFormatSymbols;
import java.text.NumberFormat;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.time.format.FormatStyle;
import java.util.Locale;
import java.util.regex.Pattern;

/**
 * Dates, times and numbers as the reader writes them. UTC comes in; the zone of the place where it
 * happened goes out.
 */
public final class Formats {
    private static final DateTimeFormatter MACHINE = DateTimeFormatter.ISO_INSTANT;

    private static final Pattern DECIMAL_POINT = Pattern.compile("(\\d)\\.(\\d)");

    private final Locale locale;
    private final ZoneId zone;

    public Formats(Locale locale, ZoneId zone) {
        this.locale = locale;
        this.zone = zone;
    }

    /** The same reader, looking at another place. */
    public Formats at(ZoneId elsewhere) {
        return new Formats(locale, elsewhere);
    }

    public String day(Instant at) {
        return day(at.atZone(zone).toLocalDate());
    }

    public String day(LocalDate day) {
        return DateTimeFormatter.ofLocalizedDate(FormatStyle.MEDIUM).withLocale(locale).format(day);
    }

    public String time(Instant at) {
        return DateTimeFormatter.ofLocalizedTime(FormatStyle.SHORT)
                .withLocale(locale)
                .format(at.atZone(zone));
    }

    public String dayAndTime(Instant at) {
        return day(at) + ", " + time(at);
    }

    /** For the {@code datetime} attribute. */
    public String machine(Instant at) {
        return MACHINE.format(at);
    }

    public String number(double value, int decimals) {
        NumberFormat format = NumberFormat.getNumberInstance(locale);
        format.setMinimumFractionDigits(decimals);
        format.setMaximumFractionDigits(decimals);
        return format.format(value);
    }

    /** A text with plain decimals, such as "0.67 (0.08 to 2.41)", in the reader's decimal sign. */
    public String decimals(String plain) {
        char sign = DecimalFormatSymbols.getInstance(locale).getDecimalSeparator();
        return sign == '.' ? plain : DECIMAL_POINT.matcher(plain).replaceAll("$1" + sign + "$2");
    }

    /** With a decimal only where there is one to show. */
    public String amount(double value) {
        return number(value, value == Math.rint(value) ? 0 : 1);
    }

    /** A number for a form field: plain digits, no grouping. */
    static String plain(double value) {
        return BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
    }

    public String count(long value) {
        return NumberFormat.getIntegerInstance(locale).format(value);
    }

    /** Minutes and seconds, such as {@code 2:05}; hours in front where there are any. */
    public String clock(double seconds) {
        Duration left = Duration.ofSeconds(Math.round(Math.max(0, seconds)));
        return left.toHours() > 0
                ? "%d:%02d:%02d"
                        .formatted(left.toHours(), left.toMinutesPart(), left.toSecondsPart())
                : "%d:%02d".formatted(left.toMinutes(), left.toSecondsPart());
    }
}
