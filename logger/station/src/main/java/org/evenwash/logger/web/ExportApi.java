package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.KEEPER;
import static org.evenwash.logger.web.Route.get;

import io.javalin.http.Context;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.time.Instant;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.concurrent.Semaphore;
import org.evenwash.logger.store.Backups;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.transfer.Exporting;
import org.evenwash.logger.wash.Refused;

/**
 * Leaving with everything, and saving it. Each is written to a file first: a slow reader must not hold
 * the database.
 */
final class ExportApi {
    private static final DateTimeFormatter STAMP =
            DateTimeFormatter.ofPattern("yyyyMMdd-HHmm").withZone(ZoneOffset.UTC);

    private final Database database;
    private final Exporting exporting;

    /** One at a time: each reads the whole database. */
    private final Semaphore turn = new Semaphore(1);

    ExportApi(Database database, Exporting exporting) {
        this.database = database;
        this.exporting = exporting;
    }

    List<Route> routes() {
        return List.of(
                get("/api/export.zip", KEEPER, this::zip),
                get("/api/export.json", KEEPER, this::json),
                get("/api/backup", KEEPER, this::backup));
    }

    private interface Filling {
        void fill(Path file) throws IOException;
    }

    private void zip(Context ctx) {
        send(
                ctx,
                "evenwash-export",
                ".zip",
                "application/zip",
                file -> write(file, exporting::csv));
    }

    private void json(Context ctx) {
        send(
                ctx,
                "evenwash-export",
                ".json",
                "application/json",
                file -> write(file, exporting::json));
    }

    private interface Writing {
        void to(OutputStream out);
    }

    private static void write(Path file, Writing writing) throws IOException {
        try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(file))) {
            writing.to(out);
        }
    }

    private void backup(Context ctx) {
        if (!database.sqlite()) {
            throw Refused.conflict(
                    "backup",
                    "of a PostgreSQL database is made with its own pg_dump",
                    "ask whoever keeps the database");
        }
        send(
                ctx,
                "evenwash-backup",
                ".db",
                "application/vnd.sqlite3",
                file -> {
                    // SQLite makes the file itself.
                    Files.delete(file);
                    Backups.write(database, file);
                });
    }

    private void send(Context ctx, String name, String end, String type, Filling filling) {
        if (!turn.tryAcquire()) {
            throw Refused.unavailable(
                    "another export or backup", "is being written", "try again in a moment");
        }
        Path file = null;
        try {
            file = Files.createTempFile("evenwash-", end);
            filling.fill(file);
            ctx.contentType(type);
            ctx.header(
                    "Content-Disposition",
                    "attachment; filename=\""
                            + name
                            + "-"
                            + STAMP.format(Instant.now())
                            + end
                            + "\"");
            // Squeezed on the way it would not have the length that lets a browser show how far it
            // is.
            ctx.disableCompression();
            ctx.header("Content-Length", String.valueOf(Files.size(file)));
            ctx.result(Files.newInputStream(file, StandardOpenOption.DELETE_ON_CLOSE));
        } catch (IOException | RuntimeException e) {
            delete(file);
            if (e instanceof RuntimeException known) {
                throw known;
            }
            throw new UncheckedIOException("the export cannot be written", (IOException) e);
        } finally {
            turn.release();
        }
    }

    private static void delete(Path file) {
        try {
            if (file != null) {
                Files.deleteIfExists(file);
            }
        } catch (IOException e) {
            throw new UncheckedIOException("cannot delete " + file, e);
        }
    }
}
