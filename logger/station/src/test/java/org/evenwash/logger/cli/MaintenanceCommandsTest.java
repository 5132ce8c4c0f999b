package org.evenwash.logger.cli;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.UUID;
import java.util.zip.ZipFile;
import org.evenwash.logger.DataFolder;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.store.Operators;
import org.evenwash.logger.store.OutboxNumbers;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;

class MaintenanceCommandsTest {
    @TempDir Path folder;

    private void addOperator(String name) {
        try (Database database = open()) {
            database.change(
                    handle ->
                            Operators.insert(
                                    handle,
                                    new Operator(UUID.randomUUID(), name, true, Instant.EPOCH)));
        }
    }

    private Database open() {
        return Database.open("jdbc:sqlite:" + DataFolder.database(folder));
    }

    private List<String> operators() {
        try (Database database = open()) {
            return database.read(Operators::all).stream().map(Operator::name).toList();
        }
    }

    @Test
    void backupAndRestore_bringBackWhatWasThere_andKeepWhatCameAfter() throws IOException {
        addOperator("Before");
        Path backup = folder.resolve("monday.backup");
        Run written = Run.of("backup", "--data", folder.toString(), backup.toString());
        addOperator("After");

        Run restored = Run.of("restore", "--data", folder.toString(), backup.toString());

        assertThat(written.exit()).isZero();
        assertThat(restored.err()).isEmpty();
        assertThat(restored.exit()).isZero();
        assertThat(operators()).containsExactly("Before");
        try (var kept = Files.newDirectoryStream(folder, "before-restore-*.db")) {
            try (Database database = Database.open("jdbc:sqlite:" + kept.iterator().next())) {
                assertThat(database.read(Operators::all)).hasSize(2);
            }
        }
    }

    @Test
    void backupOverAnExistingFile_isRefused() throws IOException {
        addOperator("One");
        Path file = Files.writeString(folder.resolve("precious.txt"), "precious");

        Run run = Run.of("backup", "--data", folder.toString(), file.toString());

        assertThat(run.exit()).isEqualTo(1);
        assertThat(run.err()).contains("is there already; name a new file");
        assertThat(file).hasContent("precious");
    }

    /** Every user of the machine reads the command lines of all. */
    @Test
    void passwordInTheDatabasesAddress_isRefused_andNotRepeated() {
        for (String sign : new String[] {"?password=", "?user=a&PASSWORD="}) {
            String address = "jdbc:postgresql://localhost/z" + sign + "tell-nobody";

            Run run = Run.of("backup", "--database", address, folder.resolve("b").toString());

            assertThat(run.exit()).isEqualTo(2);
            assertThat(run.err()).contains("PGPASSFILE").doesNotContain("tell-nobody");
        }
    }

    @Test
    void restoringWhatIsNoBackup_leavesTheDatabaseAsItWas() throws IOException {
        addOperator("One");
        Path file = Files.writeString(folder.resolve("letter.txt"), "x".repeat(10_000));

        Run run = Run.of("restore", "--data", folder.toString(), file.toString());

        assertThat(run.exit()).isEqualTo(1);
        assertThat(run.err()).isNotBlank();
        assertThat(operators()).containsExactly("One");
    }

    /** An empty database made in its place would look as if all washes were gone. */
    @Test
    void interruptedRestore_isTold_whereThereIsNoDatabaseYet_andCanBeDoneAgain()
            throws IOException {
        addOperator("One");
        Path backup = folder.resolve("b");
        Run.of("backup", "--data", folder.toString(), backup.toString());
        Path fresh = Files.createDirectory(folder.resolve("fresh"));
        Files.writeString(fresh.resolve("evenwash.db.incoming"), "half");

        assertThat(Run.of("account", "first", "--data", fresh.toString(), "Anna").err())
                .startsWith("a restore into " + fresh + " was interrupted");
        Run told = Run.of("serve", "--port", "0", "--data", fresh.toString());
        assertThat(told.err())
                .startsWith("a restore into " + fresh + " was interrupted")
                .hasLineCount(1);
        assertThat(DataFolder.database(fresh)).doesNotExist();

        assertThat(Run.of("restore", "--data", fresh.toString(), backup.toString()).exit())
                .isZero();
        assertThat(DataFolder.database(fresh)).exists();
        assertThat(fresh.resolve("evenwash.db.incoming")).doesNotExist();
    }

    @Test
    void restoringUnderARunningStation_isRefused() throws IOException {
        addOperator("One");
        Path backup = folder.resolve("b");
        Run.of("backup", "--data", folder.toString(), backup.toString());
        try (DataFolder held = DataFolder.take(folder)) {
            assertThat(held.database()).exists();
            Run run = Run.of("restore", "--data", folder.toString(), backup.toString());
            assertThat(run.exit()).isEqualTo(1);
            assertThat(run.err()).startsWith("another logger is using the data folder");
        }
    }

    @Test
    void folderWithoutADatabase_isNamed() {
        Run run = Run.of("set-aside", "list", "--data", folder.toString());

        assertThat(run.exit()).isEqualTo(2);
        assertThat(run.err()).contains("no database in " + folder);
    }

    @Test
    void setAsideList_ofAHealthyStation_saysSo() {
        addOperator("One");

        assertThat(Run.of("set-aside", "list", "--data", folder.toString()).out())
                .contains("None was set aside.");
    }

    @Test
    void admittedBench_getsAPassword_andAWrongIdIsExplained() {
        addOperator("One");

        Run good = Run.of("admit-bench", "--data", folder.toString(), "shed-1");
        Run bad = Run.of("admit-bench", "--data", folder.toString(), "Shed 1");

        assertThat(good.out()).contains("Bench shed-1 may connect with the password ");
        assertThat(bad.exit()).isEqualTo(2);
        assertThat(bad.err()).contains("use 1 to 32 of the characters a-z 0-9 and -");
    }

    @Test
    void versionAndHelp_arePrinted() {
        assertThat(Run.of("--version").out()).startsWith("evenwash-logger ");
        assertThat(Run.of("--help").out())
                .contains("serve", "infestation", "backup", "restore", "set-aside");
    }

    @Test
    void everyHelp_saysHowTheCommandCanEnd() {
        CommandLine root = Main.commandLine();
        assertThat(root.getUsageMessage()).contains("  3   not enough data", "  4   the embedded");
        List<CommandLine> commands = new ArrayList<>(root.getSubcommands().values());
        for (int i = 0; i < commands.size(); i++) {
            CommandLine command = commands.get(i);
            commands.addAll(command.getSubcommands().values());
            String name = command.getCommandSpec().qualifiedName();
            String help = command.getUsageMessage();
            assertThat(help)
                    .as(name)
                    .contains("Exit codes:", "  0   ", "  1   ", "  2   wrong input");
            assertThat(help.contains("  3   not enough data"))
                    .as(name)
                    .isEqualTo(Commands.ANALYSES.containsKey(command.getCommandName()));
            assertThat(help.contains("  4   the embedded broker"))
                    .as(name)
                    .isEqualTo(command.getCommandName().equals("serve"));
        }
        assertThat(commands).hasSizeGreaterThan(30);
    }

    @Test
    void supportBundle_saysHowMuchThereIs_andNothingOfPeopleOrPasswords() throws IOException {
        addOperator("Wilhelmina Ostwind");
        String password = admitted(folder);
        Path file = folder.resolve("help.zip");

        Run run = Run.of("support-bundle", "--data", folder.toString(), file.toString());

        assertThat(run.err()).isEmpty();
        assertThat(run.exit()).isZero();
        String text = unzipped(file);
        assertThat(text)
                .contains("1  operator\n", "evenwash.db", "shed-9, added", "java: ", "1 yard")
                .doesNotContain("Wilhelmina", password, "$2a$", "$2b$", "$2y$");
        assertThat(Run.of("support-bundle", "--data", folder.toString(), file.toString()).err())
                .contains("name a new file");
    }

    @Test
    void supportBundle_tellsMissingNumbers_andThoseUsedTwice() throws IOException {
        UUID outbox = new UUID(5, 5);
        try (Database database = open()) {
            database.change(
                    handle -> {
                        OutboxNumbers.note(handle, "shed-1", outbox, 1, UUID.randomUUID());
                        OutboxNumbers.note(handle, "shed-1", outbox, 4, UUID.randomUUID());
                        OutboxNumbers.note(handle, "shed-2", outbox, 4, UUID.randomUUID());
                    });
        }
        Path file = folder.resolve("help.zip");

        Run.of("support-bundle", "--data", folder.toString(), file.toString());

        assertThat(unzipped(file))
                .contains(
                        "shed-1, outbox " + outbox + ": 2 to 3\n",
                        "used twice, as by a copied memory card:\n  shed-1 and shed-2, outbox "
                                + outbox
                                + ": 4 in 2 messages, the last of ");
    }

    /** The very case that a bundle is for. */
    @Test
    void supportBundle_ofADamagedDatabase_saysWhatIsWrong() throws IOException {
        Files.writeString(DataFolder.database(folder), "x".repeat(10_000));
        Path file = folder.resolve("help.zip");

        Run run = Run.of("support-bundle", "--data", folder.toString(), file.toString());

        assertThat(run.exit()).isZero();
        assertThat(unzipped(file)).contains("the database file is damaged");
    }

    @Test
    void supportBundle_ofADamagedRow_holdsTheRest() throws IOException {
        try (Database database = open()) {
            database.change(
                    handle -> {
                        OutboxNumbers.note(handle, "shed-1", new UUID(5, 5), 1, UUID.randomUUID());
                        OutboxNumbers.note(handle, "shed-1", new UUID(5, 5), 4, UUID.randomUUID());
                        handle.execute("UPDATE outbox_number SET outbox_id = 'torn'");
                    });
        }
        Path file = folder.resolve("help.zip");

        Run run = Run.of("support-bundle", "--data", folder.toString(), file.toString());

        assertThat(run.err()).isEmpty();
        assertThat(run.exit()).isZero();
        assertThat(unzipped(file)).contains("numbers missing:\n\nthe rest cannot be read: ");
        try (ZipFile zip = new ZipFile(file.toFile())) {
            assertThat(zip.getEntry("journal.txt")).isNotNull();
        }
    }

    private static String admitted(Path folder) {
        String line = Run.of("admit-bench", "--data", folder.toString(), "shed-9").out();
        return line.substring(line.lastIndexOf(' ') + 1).strip();
    }

    private static String unzipped(Path file) throws IOException {
        try (ZipFile zip = new ZipFile(file.toFile())) {
            StringBuilder text = new StringBuilder();
            for (var entry : Collections.list(zip.entries())) {
                text.append(new String(zip.getInputStream(entry).readAllBytes(), UTF_8));
            }
            return text.toString();
        }
    }
}
