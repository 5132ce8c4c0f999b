package org.evenwash.logger.wash;

import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Listing;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.Report;
import org.evenwash.logger.store.Reports;
import org.evenwash.record.Ids;
import org.jdbi.v3.core.Handle;

/** Reports as they were handed out. What a report says is made in the package {@code report}. */
public final class ReportShelf {
    /** Somebody else taking the next number at the same moment is rare; that often in a row, never. */
    private static final int TRIES = 20;

    private static final String ADDRESS = "address";

    private final Desk desk;

    ReportShelf(Desk desk) {
        this.desk = desk;
    }

    /** Where phones find this logger, as it was last printed into codes; empty before. */
    public Optional<String> address() {
        return desk.fact(ADDRESS);
    }

    /** Keeps the address for the next labels. */
    public void rememberAddress(String address) {
        desk.once(
                By.nobody(),
                "remember the address",
                Ids.next(),
                handle -> Database.setFact(handle, ADDRESS, address));
    }

    /** A report whose number is known, ready to be kept. */
    public record Made(Report report, Reports.Content content) {}

    /** Makes the report once its number and time are known; may be called again with another number. */
    public interface Maker {
        Made make(UUID id, long number, Instant at);
    }

    /** Rolls the transaction back, and the idempotency key with it. */
    private static final class NumberTaken extends RuntimeException {
        private static final long serialVersionUID = 1;

        NumberTaken() {
            super("the number of the report was taken meanwhile", null, false, false);
        }
    }

    /**
     * Makes a report and keeps it. It is made outside the transaction, so that nobody waits for it; if
     * its number is taken meanwhile, it is made again with the next one.
     */
    public Report keep(Maker maker, By by) {
        UUID id = Ids.next();
        for (int i = 0; i < TRIES; i++) {
            Made made = maker.make(id, desk.read(Reports::nextNumber), desk.now());
            Optional<UUID> kept = keep(made, id, by);
            if (kept.isPresent()) {
                return report(kept.get());
            }
        }
        throw Refused.conflict("report", "found no free number", "try again");
    }

    /** Empty when the number was taken. */
    private Optional<UUID> keep(Made made, UUID id, By by) {
        try {
            return Optional.of(desk.once(by, "make a report", id, handle -> keep(handle, made)));
        } catch (NumberTaken meanwhile) {
            return Optional.empty();
        }
    }

    private static void keep(Handle handle, Made made) {
        if (!Reports.insert(handle, made.report(), made.content())) {
            throw new NumberTaken();
        }
    }

    public Report report(UUID id) {
        return desk.read(handle -> report(handle, id));
    }

    private static Report report(Handle handle, UUID id) {
        return Reports.find(handle, Entry.present("report", id))
                .orElseThrow(() -> Refused.notFound("report", id));
    }

    /** The report of that number. */
    public Report numbered(long number) {
        return desk.read(handle -> Reports.numbered(handle, number))
                .orElseThrow(
                        () ->
                                Refused.invalid(
                                        "report",
                                        "number " + number + " is not here",
                                        "look it up in the list of reports"));
    }

    /**
     * All of one subject, newest first.
     *
     * @param onDay of an apiary's report, null for the other kinds
     */
    public List<Report> of(Report.Kind kind, UUID subjectId, LocalDate onDay) {
        return desk.read(handle -> Reports.of(handle, kind, subjectId, onDay));
    }

    /** Newest first. */
    public Listing<Report> list(Page page) {
        return desk.read(handle -> Reports.list(handle, page));
    }

    /** The very bytes that were handed out. */
    public byte[] file(UUID id, Report.Format format) {
        return desk.read(
                handle -> {
                    report(handle, id);
                    return Reports.file(handle, id, format);
                });
    }

    /** What it was made of, as JSON. */
    public String inputs(UUID id) {
        return desk.read(handle -> Reports.inputs(handle, id));
    }

    /** What it says, as JSON. */
    public String result(UUID id) {
        return desk.read(handle -> Reports.result(handle, id));
    }
}
