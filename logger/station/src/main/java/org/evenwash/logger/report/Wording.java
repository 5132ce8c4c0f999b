package org.evenwash.logger.report;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Locale;
import java.util.UUID;

/** The reader's words, dates and numbers: the same that the pages use. */
public interface Wording {
    /** The text under a key of the bundle, its places filled in. */
    String say(String key, Object... places);

    /** The word for a constant. */
    String say(Enum<?> value);

    /** How a person calls a form field. */
    String field(String name);

    String day(LocalDate day);

    String day(Instant at);

    String dayAndTime(Instant at);

    String number(double value, int decimals);

    /** With a decimal only where there is one to show. */
    String amount(double value);

    /** A text with plain decimals in the reader's decimal sign. */
    String decimals(String plain);

    /** What a correction reads instead of an id, a constant or nothing. */
    String corrected(String value);

    /** Name of a person or a spirit batch; words where nobody is known. */
    String name(UUID id);

    Locale locale();

    /** Of the words, such as {@code en}. */
    String language();

    /** True where paper is 8.5 by 11 inches rather than A4. */
    boolean letterPaper();

    /** The same reader, looking at another place. */
    Wording at(ZoneId zone);
}
