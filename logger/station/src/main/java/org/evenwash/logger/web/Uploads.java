package org.evenwash.logger.web;

import io.javalin.config.JavalinConfig;
import io.javalin.config.SizeUnit;
import io.javalin.http.Context;
import io.javalin.http.UploadedFile;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import org.evenwash.logger.transfer.Importing;

/** Files that come with a form. */
final class Uploads {
    private static final int MIB = 1_024 * 1_024;

    /** Of the form around the file. */
    private static final int FRAME = 64 * 1_024;

    private Uploads() {}

    static void limits(JavalinConfig config) {
        config.jetty.multipartConfig.maxFileSize(Importing.LARGEST_BYTES, SizeUnit.BYTES);
        config.jetty.multipartConfig.maxTotalRequestSize(
                Importing.LARGEST_BYTES + FRAME, SizeUnit.BYTES);
        config.jetty.multipartConfig.maxInMemoryFileSize(1, SizeUnit.MB);
    }

    /** A field of a form with a file, null if there is none. */
    static String field(Context ctx, String name, Texts texts) {
        checkSize(ctx, texts);
        try {
            return ctx.formParam(name);
        } catch (RuntimeException broken) {
            throw notWhole(texts);
        }
    }

    /**
     * @throws Problem if there is no file or it is too large
     */
    static UploadedFile file(Context ctx, String name, Texts texts) {
        checkSize(ctx, texts);
        UploadedFile file;
        try {
            file = ctx.isMultipartFormData() ? ctx.uploadedFile(name) : null;
        } catch (RuntimeException broken) {
            throw notWhole(texts);
        }
        if (file == null || file.size() == 0) {
            throw Problem.of(
                    422, "file", texts.say("bad.file.none"), texts.say("bad.file.none.remedy"));
        }
        return file;
    }

    static byte[] bytes(UploadedFile file) {
        try (InputStream in = file.content()) {
            return in.readNBytes(Importing.LARGEST_BYTES + 1);
        } catch (IOException e) {
            throw new UncheckedIOException("the file did not arrive whole", e);
        }
    }

    private static void checkSize(Context ctx, Texts texts) {
        if (ctx.req().getContentLengthLong() > Importing.LARGEST_BYTES + FRAME) {
            throw tooLarge(texts);
        }
    }

    private static Problem tooLarge(Texts texts) {
        return Problem.of(
                413,
                "file",
                texts.say("status.413"),
                texts.say("bad.file.large", Importing.LARGEST_BYTES / MIB));
    }

    private static Problem notWhole(Texts texts) {
        return Problem.of(
                400,
                "file",
                texts.say("bad.file.broken"),
                texts.say("bad.file.large", Importing.LARGEST_BYTES / MIB));
    }
}
