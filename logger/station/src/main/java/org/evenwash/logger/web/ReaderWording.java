package org.evenwash.logger.web;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.evenwash.logger.report.Wording;
import org.evenwash.logger.wash.Workplace;

/** The words, dates and numbers of the pages, for a report. */
public final class ReaderWording implements Wording {
    /** Countries whose paper is 8.5 by 11 inches. */
    private static final Set<String> LETTER =
            Set.of("US", "CA", "MX", "CL", "CO", "CR", "GT", "PA", "PH", "SV", "VE", "DO", "NI");

    private final Texts texts;
    private final Formats formats;
    private final Map<UUID, String> names;

    ReaderWording(Texts texts, Formats formats, Map<UUID, String> names) {
        this.texts = texts;
        this.formats = formats;
        this.names = names;
    }

    /** For a reader of that language and country. */
    public static ReaderWording of(Locale locale, Workplace place) {
        return new ReaderWording(
                Texts.in(locale), new Formats(locale, ZoneId.systemDefault()), Names.of(place));
    }

    @Override
    public String say(String key, Object... places) {
        return texts.say(key, places);
    }

    @Override
    public String say(Enum<?> value) {
        return texts.say(value);
    }

    @Override
    public String field(String name) {
        return texts.field(name);
    }

    @Override
    public String day(LocalDate day) {
        return formats.day(day);
    }

    @Override
    public String day(Instant at) {
        return formats.day(at);
    }

    @Override
    public String dayAndTime(Instant at) {
        return formats.dayAndTime(at);
    }

    @Override
    public String number(double value, int decimals) {
        return formats.number(value, decimals);
    }

    @Override
    public String amount(double value) {
        return formats.amount(value);
    }

    @Override
    public String decimals(String plain) {
        return formats.decimals(plain);
    }

    @Override
    public String corrected(String value) {
        return Names.orWords(value, names, texts);
    }

    @Override
    public String name(UUID id) {
        String name = id == null ? null : names.get(id);
        return name == null ? texts.say("wash.nobody") : name;
    }

    @Override
    public Locale locale() {
        return texts.locale();
    }

    @Override
    public String language() {
        return texts.language();
    }

    @Override
    public boolean letterPaper() {
        return LETTER.contains(texts.locale().getCountry());
    }

    @Override
    public Wording at(ZoneId zone) {
        return new ReaderWording(texts, formats.at(zone), names);
    }
}
