package org.evenwash.logger.web;

import static org.evenwash.logger.web.Access.KEEPER;
import static org.evenwash.logger.web.Route.file;
import static org.evenwash.logger.web.Route.get;
import static org.evenwash.logger.web.Route.post;

import io.javalin.http.Context;
import io.javalin.http.UploadedFile;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.ImportFile;
import org.evenwash.logger.transfer.ImportPlan;
import org.evenwash.logger.transfer.Importing;
import org.evenwash.logger.transfer.Outcome;
import org.evenwash.logger.transfer.ProblemList;
import org.evenwash.logger.wash.By;

/** The part of the HTTP interface that brings old records in. Long work is answered with 202. */
final class ImportApi {
    private static final int LONGEST_WHY = 400;

    /** A small file is done by then, and its answer is the outcome. */
    private static final long PATIENCE_MS = 2_500;

    private final FrontDesk desk;
    private final Importing importing;
    private final ImportJobs jobs;

    ImportApi(FrontDesk desk, Importing importing, ImportJobs jobs) {
        this.desk = desk;
        this.importing = importing;
        this.jobs = jobs;
    }

    List<Route> routes() {
        return List.of(
                get("/api/imports", KEEPER, this::list),
                file("/api/imports", KEEPER, this::upload),
                get("/api/imports/{id}", KEEPER, this::show),
                post("/api/imports/{id}/check", KEEPER, this::check),
                post("/api/imports/{id}/accept", KEEPER, this::accept),
                post("/api/imports/{id}/undo", KEEPER, this::undo),
                post("/api/imports/{id}/discard", KEEPER, this::discard),
                get("/api/imports/{id}/problems.csv", KEEPER, this::problems));
    }

    /** A file as a program sees it. */
    record Document(
            UUID id,
            String name,
            ImportFile.Standing standing,
            long size_bytes,
            Instant uploadedAt,
            Instant importedAt,
            Instant undoneAt,
            String undoneWhy,
            ImportPlan plan,
            Outcome outcome,
            Long rowsDone,
            Long rowsInAll,
            String trouble) {}

    private Document document(ImportFile file) {
        ImportJobs.Job job = jobs.of(file.id()).orElse(null);
        boolean running = job != null && job.running();
        return new Document(
                file.id(),
                file.name(),
                file.standing(),
                file.size_bytes(),
                file.uploadedAt(),
                file.importedAt(),
                file.undoneAt(),
                file.undoneWhy(),
                Importing.plan(file),
                Importing.outcome(file),
                running ? job.done() : null,
                running ? job.total() : null,
                job == null || job.trouble() == null ? null : job.trouble().getMessage());
    }

    private UUID id(Context ctx) {
        return Query.path(ctx, desk.texts(ctx));
    }

    private static String page(UUID id) {
        return "/imports/" + id;
    }

    private void list(Context ctx) {
        ctx.json(importing.files().stream().map(this::document).toList());
    }

    private void show(Context ctx) {
        ctx.json(document(importing.file(id(ctx))));
    }

    private void upload(Context ctx) {
        UploadedFile file = Uploads.file(ctx, "file", desk.texts(ctx));
        ImportFile taken = importing.upload(file.filename(), Uploads.bytes(file));
        Answer.created(ctx, page(taken.id()), document(taken));
    }

    private void check(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        Character separator = ImportForm.separator(in);
        in.check();
        Importing.Look before = importing.look(id);
        if (separator != null && separator != before.separator()) {
            // Other columns altogether: what was chosen for the old ones says nothing.
            ImportPlan fresh = importing.look(id, separator).plan();
            run(ctx, id, progress -> importing.check(id, fresh, progress));
            return;
        }
        ImportPlan plan = ImportForm.read(in, before);
        run(ctx, id, progress -> importing.check(id, plan, progress));
    }

    private void accept(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        boolean leaveOut = in.yes("leaveOut");
        boolean makeNew = in.yes("makeNew");
        By by = Api.by(ctx, in);
        in.check();
        run(ctx, id, progress -> importing.accept(id, leaveOut, makeNew, by, progress));
    }

    private void undo(Context ctx) {
        UUID id = id(ctx);
        Input in = desk.input(ctx);
        String why = in.text("why", LONGEST_WHY);
        By by = Api.by(ctx, in);
        in.check();
        run(ctx, id, progress -> importing.undo(id, why, by));
    }

    private void run(Context ctx, UUID id, ImportJobs.Work work) {
        importing.file(id);
        ImportJobs.Job job = jobs.start(id, work);
        boolean done = job.within(PATIENCE_MS);
        if (done && job.trouble() != null) {
            throw job.trouble();
        }
        Document now = document(importing.file(id));
        if (done) {
            Answer.done(ctx, page(id), now);
        } else {
            Answer.accepted(ctx, page(id), now);
        }
    }

    private void discard(Context ctx) {
        importing.discard(id(ctx));
        Answer.said(ctx, "/data", desk.texts(ctx).say("import.discarded"));
    }

    private void problems(Context ctx) {
        UUID id = id(ctx);
        List<org.evenwash.logger.transfer.RowProblem> all = new ArrayList<>();
        importing.problems(id, all::add);
        ctx.contentType("text/csv; charset=utf-8");
        ctx.header("Content-Disposition", "attachment; filename=\"problems.csv\"");
        ctx.result(ProblemList.csv(all));
    }
}
