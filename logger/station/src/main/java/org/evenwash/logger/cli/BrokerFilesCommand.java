package org.evenwash.logger.cli;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.Callable;
import org.evenwash.logger.broker.Broker;
import org.evenwash.logger.broker.MosquittoFiles;
import org.evenwash.logger.file.WholeFile;
import org.evenwash.logger.secret.BenchPassword;
import org.evenwash.logger.store.Benches;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.tls.Authority.Server;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

@Command(
        name = "broker-files",
        description = {
            "Writes passwords, access rules and settings for a Mosquitto broker.",
            "A bench writes and reads its own topics alone. Write them anew after 'admit-bench' and 'revoke-bench', and let",
            "Mosquitto read them again (systemctl reload mosquitto): it then also cuts off who is no",
            "longer let in."
        },
        mixinStandardHelpOptions = true)
final class BrokerFilesCommand implements Callable<Integer> {
    private static final String LOGGER = "[A-Z][A-Za-z0-9-]{0,31}";

    @Mixin DataOption data;
    @Spec CommandSpec spec;

    @Parameters(
            paramLabel = "DIR",
            description = "Where to write them, such as /etc/mosquitto/evenwash")
    Path folder;

    @Option(
            names = "--logger",
            paramLabel = "NAME",
            description = {
                "User of a logger, beginning with a capital; may be given several times, since two",
                "loggers cannot share one. Default: " + Broker.STATION
            })
    List<String> loggers = List.of(Broker.STATION);

    @Override
    public Integer call() {
        for (String logger : loggers) {
            if (!logger.matches(LOGGER)) {
                throw new BadInput(
                        "--logger reads '"
                                + logger
                                + "'; use letters, digits and -, beginning with a capital: no bench"
                                + " is called so");
            }
        }
        Map<String, String> hashes = new TreeMap<>();
        try (Database database = data.open()) {
            hashes.putAll(database.read(Benches::passwordHashes));
        }
        List<String> old =
                hashes.entrySet().stream()
                        .filter(one -> !BenchPassword.isForMosquitto(one.getValue()))
                        .map(Map.Entry::getKey)
                        .toList();
        old.forEach(hashes::remove);
        PrintWriter out = spec.commandLine().getOut();
        try {
            Files.createDirectories(folder);
            for (String logger : loggers) {
                hashes.put(logger, BenchPassword.hash(password(logger)));
            }
            boolean certificates = copyCertificates();
            write("passwords", MosquittoFiles.passwords(hashes), "rw-------");
            write("acl", MosquittoFiles.access(loggers), "rw-r--r--");
            write(
                    "evenwash.conf",
                    MosquittoFiles.settings(folder.toAbsolutePath(), certificates),
                    "rw-r--r--");
        } catch (IOException e) {
            throw new BadInput("cannot write to " + folder + ": " + e);
        }
        int benches = hashes.size() - loggers.size();
        out.println(benches + (benches == 1 ? " bench" : " benches") + " may connect.");
        for (String bench : old) {
            out.println(
                    "Bench "
                            + bench
                            + " was admitted by an earlier version; admit it again first.");
        }
        out.println("Include " + folder.resolve("evenwash.conf") + " in Mosquitto's settings.");
        out.println("Mosquitto's user must be able to read these files: chown mosquitto: them.");
        out.println(
                "Start the logger with --broker mqtt://"
                        + loggers.get(0)
                        + "@127.0.0.1:1883 --broker-password-file "
                        + passwordFile(loggers.get(0))
                        + " (mqtts://…:8883 and --broker-ca with certificates)");
        out.flush();
        return ExitCode.RESULT;
    }

    private Path passwordFile(String logger) {
        return folder.resolve(logger + "-password");
    }

    /** Kept from one time to the next: the running logger knows it. */
    private String password(String logger) throws IOException {
        Path file = passwordFile(logger);
        if (!Files.exists(file)) {
            write(file.getFileName().toString(), BenchPassword.make() + "\n", "rw-------");
        }
        return Files.readString(file).strip();
    }

    private boolean copyCertificates() throws IOException {
        Path from = CaCommand.folder(data.folder);
        if (!Server.BROKER.isIn(from)) {
            return false;
        }
        write("broker.pem", Files.readString(Server.BROKER.certificate(from)), "rw-r--r--");
        write("broker-key.pem", Files.readString(Server.BROKER.key(from)), "rw-------");
        return true;
    }

    /** Whole or not at all: Mosquitto may read at any moment. */
    private void write(String name, String text, String permissions) throws IOException {
        WholeFile.write(folder.resolve(name), text, permissions);
    }
}
