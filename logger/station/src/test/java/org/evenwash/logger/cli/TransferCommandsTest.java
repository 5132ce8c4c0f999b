package org.evenwash.logger.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.stream.Collectors;
import org.evenwash.logger.DataFolder;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.store.Washes;
import org.evenwash.logger.transfer.WashField;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class TransferCommandsTest {
    @TempDir Path folder;
    private Path file;

    @BeforeEach
    void file() throws IOException {
        Database.open("jdbc:sqlite:" + DataFolder.database(folder)).close();
        file =
                Files.writeString(
                        folder.resolve("old.csv"),
                        "Tag;Volk;Milben\n18.05.2021;Alder;9\n19.05.2021;Birch;viele\n");
    }

    private Run run(String... args) {
        String[] all = Arrays.copyOf(args, args.length + 2);
        all[args.length] = "--data";
        all[args.length + 1] = folder.toString();
        return Run.of(all);
    }

    private long washes() {
        try (Database database = Database.open("jdbc:sqlite:" + DataFolder.database(folder))) {
            return database.read(handle -> Washes.list(handle, WashFilter.ALL, Page.first(1)))
                    .total();
        }
    }

    @Test
    void dryRun_saysEachProblemAndLeavesNothingBehind() {
        Run run =
                run(
                        "import",
                        file.toString(),
                        "--map",
                        "day=Tag",
                        "--day-order",
                        "DAY_MONTH_YEAR",
                        "--apiary",
                        "Old Quarry",
                        "--dry-run");

        assertThat(run.err()).isEmpty();
        assertThat(run.exit()).isEqualTo(2);
        assertThat(run.out())
                .contains("2 rows: 1 ready, 0 here already, 1 with a problem")
                .contains("New apiaries (1): Old Quarry")
                .contains("old.csv, line 3, column Milben: \"viele\"; expected a whole number")
                .contains("Nothing was imported: this was a dry run.");
        assertThat(washes()).isZero();
        assertThat(run("imports", "list").out()).contains("No file was brought in.");
    }

    @Test
    void importListAndUndo_fromTheCommandLine() {
        Run refused =
                run(
                        "import",
                        file.toString(),
                        "--map",
                        "day=Tag",
                        "--day-order",
                        "DAY_MONTH_YEAR",
                        "--apiary",
                        "Old Quarry");
        assertThat(refused.exit()).isEqualTo(2);
        assertThat(refused.err()).contains("1 rows with a problem; nothing was imported");

        Run done =
                run(
                        "import",
                        file.toString(),
                        "--map",
                        "day=Tag",
                        "--day-order",
                        "DAY_MONTH_YEAR",
                        "--apiary",
                        "Old Quarry",
                        "--leave-out",
                        "--make-new");
        assertThat(done.err()).isEmpty();
        assertThat(done.exit()).isZero();
        assertThat(washes()).isEqualTo(1);
        String list = run("imports", "list").out();
        assertThat(list).contains("imported").contains("old.csv");

        Run undone = run("imports", "undo", list.substring(0, 36), "--why", "wrong year");
        assertThat(undone.out()).contains("The import of old.csv is undone.");
        assertThat(washes()).isZero();
        assertThat(run("imports", "list").out()).contains("undone").contains("wrong year");
    }

    @Test
    void unknownField_isAnsweredWithThoseThereAre() {
        Run run = run("import", file.toString(), "--map", "varroa=Milben");

        assertThat(run.exit()).isEqualTo(2);
        assertThat(run.err()).contains("there is no field varroa; there are day, apiary, colony");
        assertThat(ImportCommand.Fields.ALL.replaceAll("\\s+", " "))
                .isEqualTo(
                        Arrays.stream(WashField.values())
                                .map(WashField::key)
                                .collect(Collectors.joining(", ")));
    }

    @Test
    void export_writesAZipOrJson_andNeverOverAFile() {
        assertThat(run("export", folder.resolve("all.zip").toString()).exit()).isZero();
        assertThat(run("export", folder.resolve("all.json").toString()).exit()).isZero();
        assertThat(folder.resolve("all.zip")).isNotEmptyFile();
        assertThat(folder.resolve("all.json")).content().startsWith("{\"format\"");
        assertThat(run("export", folder.resolve("all.zip").toString()).err())
                .contains("is there already; name a new file");
        assertThat(run("export", folder.resolve("all.txt").toString()).err())
                .contains("name a file that ends in .zip or .json");
    }
}
