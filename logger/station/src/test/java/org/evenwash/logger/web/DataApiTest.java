package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.zip.ZipInputStream;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.store.Operators;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.WashFilter;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Data in and out as a program or a browser without script does it. */
class DataApiTest {
    private static final String FILE =
            """
            Date,Yard,Hive,Bees,Mites
            2031-04-02,Old Quarry,Elder,301,7
            2031-04-03,Old Quarry,Ash,xx,7
            """;
    private static final String BOUNDARY = "--a-form";

    @TempDir Path folder;
    private Scene scene;
    private Visitor visitor;

    @BeforeEach
    void open() {
        scene = Scene.empty(folder);
        visitor = new Visitor(scene);
    }

    @AfterEach
    void close() {
        scene.close();
    }

    private HttpResponse<String> upload(String content, String token, String accept) {
        String csrf = token == null ? "" : part("csrf\"", token);
        String body =
                csrf + part("file\"; filename=\"old.csv\"", content) + "--" + BOUNDARY + "--\r\n";
        return visitor.send(
                visitor.request("/api/imports")
                        .POST(HttpRequest.BodyPublishers.ofString(body))
                        .header("Content-Type", "multipart/form-data; boundary=" + BOUNDARY)
                        .header("Accept", accept));
    }

    private static String part(String name, String value) {
        return "--"
                + BOUNDARY
                + "\r\nContent-Disposition: form-data; name=\""
                + name
                + "\r\n\r\n"
                + value
                + "\r\n";
    }

    private String token() {
        return visitor.json("/api/session").get("csrf").asText();
    }

    private String uploaded() {
        return Visitor.read(upload(FILE, token(), "application/json")).at("/result/id").asText();
    }

    private int washes() {
        return (int) scene.place.washes().list(WashFilter.ALL, Page.first(1)).total();
    }

    @Test
    void formWithAFile_needsTheTokenOfItsSession() {
        String token = token();

        assertThat(upload(FILE, null, "application/json").statusCode()).isEqualTo(403);
        assertThat(upload(FILE, "other", "application/json").statusCode()).isEqualTo(403);
        HttpResponse<String> page = upload(FILE, token, "text/html");
        assertThat(page.statusCode()).isEqualTo(303);
        assertThat(page.headers().firstValue("Location").orElseThrow()).startsWith("/imports/");
        assertThat(visitor.get(page.headers().firstValue("Location").orElseThrow()).body())
                .contains("How to read it", "Old Quarry");
    }

    @Test
    void wholeWay_fromTheFileToTheUndo() {
        String id = uploaded();
        JsonNode checked =
                Visitor.read(
                        visitor.post(
                                "/api/imports/" + id + "/check", "{\"timeZone\": \"Etc/UTC\"}"));
        assertThat(checked.at("/result/outcome/ready").asInt()).isEqualTo(1);
        assertThat(checked.at("/result/outcome/problems/0/line").asInt()).isEqualTo(3);
        assertThat(visitor.get("/imports/" + id).body())
                .contains("What would be imported", "Line 3", "a number above 0");
        assertThat(visitor.get("/api/imports/" + id + "/problems.csv").body())
                .contains("line,column,value,expected", "3,Bees,xx,");

        HttpResponse<String> refused = visitor.post("/api/imports/" + id + "/accept", "{}");
        assertThat(refused.statusCode()).isEqualTo(409);
        assertThat(refused.body()).contains("nothing was imported");
        assertThat(washes()).isZero();

        HttpResponse<String> done =
                visitor.post(
                        "/api/imports/" + id + "/accept",
                        "{\"leaveOut\": true, \"makeNew\": true}");
        assertThat(done.statusCode()).as(done.body()).isEqualTo(200);
        assertThat(washes()).isEqualTo(1);
        assertThat(visitor.get("/data").body()).contains("old.csv", "imported");

        HttpResponse<String> undone =
                visitor.post("/api/imports/" + id + "/undo", "{\"why\": \"wrong file\"}");
        assertThat(undone.statusCode()).as(undone.body()).isEqualTo(200);
        assertThat(washes()).isZero();
        assertThat(visitor.get("/imports/" + id).body()).contains("wrong file");
    }

    @Test
    void columnsAndDays_canBeChosenByWhoeverBringsTheFile() {
        String id =
                Visitor.read(upload("a;b;c\n3;5/4/31;Elder\n", token(), "application/json"))
                        .at("/result/id")
                        .asText();

        HttpResponse<String> missing = visitor.post("/api/imports/" + id + "/check", "{}");
        assertThat(missing.statusCode()).isEqualTo(422);
        assertThat(missing.body()).contains("Column day is not chosen");

        JsonNode checked =
                Visitor.read(
                        visitor.post(
                                "/api/imports/" + id + "/check",
                                """
                                {"column.mites": "a", "column.day": "#2", "column.colony": "c",
                                 "dayOrder": "MONTH_DAY_YEAR", "apiary": "Old Quarry",
                                 "timeZone": "Etc/UTC"}"""));
        assertThat(checked.at("/result/outcome/firstDay").asText()).isEqualTo("2031-05-04");
        HttpResponse<String> unknown =
                visitor.post("/api/imports/" + id + "/check", "{\"column.mites\": \"varroa\"}");
        assertThat(unknown.statusCode()).isEqualTo(422);
        assertThat(unknown.body()).contains("'varroa', which the file has not");
    }

    @Test
    void whatIsNoCsvOrNoFile_isRefusedInWords() {
        HttpResponse<String> sheet = upload("PK\u0003\u0004", token(), "application/json");
        assertThat(sheet.statusCode()).isEqualTo(422);
        assertThat(sheet.body()).contains("Export the sheet as CSV first");
        assertThat(upload("", token(), "application/json").statusCode()).isEqualTo(422);
    }

    @Test
    void fileThatIsTooLarge_isRefusedBeforeItIsRead() {
        byte[] large = new byte[org.evenwash.logger.transfer.Importing.LARGEST_BYTES + 100_000];
        Arrays.fill(large, (byte) 'x');
        HttpResponse<String> answer =
                upload(new String(large, StandardCharsets.US_ASCII), token(), "application/json");

        assertThat(answer.statusCode()).isEqualTo(413);
        assertThat(answer.body()).contains("at most 32 MiB");
    }

    @Test
    void exportAndBackup_areSentAsFiles() throws IOException {
        scene.place.yard().addOperator("Ada", org.evenwash.logger.wash.By.nobody());
        HttpResponse<byte[]> zip = bytes("/api/export.zip");
        assertThat(zip.headers().firstValue("Content-Disposition").orElseThrow())
                .matches("attachment; filename=\"evenwash-export-\\d{8}-\\d{4}\\.zip\"");
        try (ZipInputStream files = new ZipInputStream(new ByteArrayInputStream(zip.body()))) {
            assertThat(files.getNextEntry().getName()).isEqualTo("README.txt");
        }
        HttpResponse<byte[]> json = bytes("/api/export.json");
        assertThat(new ObjectMapper().readTree(json.body()).at("/tables/operator/0/name").asText())
                .isEqualTo("Ada");
        HttpResponse<byte[]> backup = bytes("/api/backup");
        if (!scene.database.sqlite()) {
            assertThat(backup.statusCode()).isEqualTo(409);
            assertThat(new String(backup.body(), StandardCharsets.UTF_8)).contains("pg_dump");
            return;
        }
        Path copy = Files.write(folder.resolve("copy.db"), backup.body());
        try (Database copied = Database.open("jdbc:sqlite:" + copy)) {
            assertThat(copied.read(Operators::all)).hasSize(1);
        }
    }

    /** Asks as browsers do, which would take it squeezed too. */
    private HttpResponse<byte[]> bytes(String path) throws IOException {
        try {
            return java.net.http.HttpClient.newHttpClient()
                    .send(
                            visitor.request(path)
                                    .GET()
                                    .header("Accept-Encoding", "gzip, deflate, br")
                                    .build(),
                            HttpResponse.BodyHandlers.ofByteArray());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("interrupted while waiting for " + path, e);
        }
    }
}
