package org.evenwash.logger.web;

import java.time.ZoneId;
import java.util.OptionalLong;
import java.util.UUID;

/**
 * What the shell of every page needs.
 *
 * @param title of the page, already in words
 * @param active key of the place in the navigation, such as {@code washes}
 * @param token for the forms on it
 * @param littleRoom_MB what the disk still takes, empty while that is enough
 * @param demonstration true where the database was made as a demonstration
 */
public record Shell(
        String title,
        String active,
        Texts texts,
        Formats formats,
        String token,
        boolean demonstration,
        OptionalLong littleRoom_MB) {

    /** The same page, with the days and times of another place. */
    public Shell at(ZoneId zone) {
        return new Shell(title, active, texts, formats.at(zone), token, demonstration, littleRoom_MB);
    }

    /** Short for {@link Texts#say}: a template is read for its shape. */
    public String t(String key, Object... places) {
        return texts.say(key, places);
    }

    /** A fresh key, so that a form sent twice is done once. */
    public String freshKey() {
        return UUID.randomUUID().toString();
    }

    /** {@code page} where {@code key} is the place we are at, as ARIA wants it; else null. */
    public String current(String key) {
        return key.equals(active) ? "page" : null;
    }
}
