package org.evenwash.logger.web;

import java.time.Instant;
import java.time.ZoneId;
import java.util.Map;
import java.util.OptionalLong;
import java.util.UUID;
import org.evenwash.logger.report.Wording;
import org.evenwash.logger.store.Role;

/**
 * What the shell of every page needs.
 *
 * @param title of the page, already in words
 * @param active key of the place in the navigation, such as {@code washes}
 * @param token for the forms on it
 * @param littleRoom_MB what the disk still takes, empty while that is enough
 * @param visit who looks at it
 * @param certificateEnds when a certificate ends that is to be renewed; null if none
 * @param demonstration true where the database was made as a demonstration
 */
public record Shell(
        String title,
        String active,
        Texts texts,
        Formats formats,
        String token,
        Visit visit,
        Instant certificateEnds,
        boolean demonstration,
        OptionalLong littleRoom_MB) {

    /** The same page, with the days and times of another place. */
    public Shell at(ZoneId zone) {
        return new Shell(
                title,
                active,
                texts,
                formats.at(zone),
                token,
                visit,
                certificateEnds,
                demonstration,
                littleRoom_MB);
    }

    /** Short for {@link Texts#say}: a template is read for its shape. */
    public String t(String key, Object... places) {
        return texts.say(key, places);
    }

    /** False for a stranger: the sign-in page leads nowhere else. */
    public boolean inside() {
        return visit.kind() != Visit.Kind.STRANGER;
    }

    /** Name of the account that is signed in, null while nobody needs one. */
    public String account() {
        return visit.person() == null ? null : visit.person().name();
    }

    /** The person of the yard who is signed in, as a form sends it; empty if that is not known. */
    public String me() {
        return visit.operatorId() == null ? "" : visit.operatorId().toString();
    }

    /** Whether the reader may do what only a reviewer may: what would be refused is not offered. */
    public boolean reviews() {
        return visit.may(Role.REVIEWER);
    }

    /** Whether the reader may do what only a keeper may. */
    public boolean keeps() {
        return visit.may(Role.KEEPER);
    }

    /** The same words, dates and numbers, as reports and their pictures take them. */
    public Wording wording() {
        return new ReaderWording(texts, formats, Map.of());
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
