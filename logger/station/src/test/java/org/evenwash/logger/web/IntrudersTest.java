package org.evenwash.logger.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.concurrent.Callable;
import java.util.concurrent.Executors;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.evenwash.logger.StationTrouble;
import org.evenwash.logger.access.FrontDoor;
import org.evenwash.logger.access.Person;
import org.evenwash.logger.secret.PersonPassword;
import org.evenwash.logger.store.Account;
import org.evenwash.logger.store.Accounts;
import org.evenwash.logger.store.ApiToken;
import org.evenwash.logger.store.Operators;
import org.evenwash.logger.store.Role;
import org.evenwash.logger.wash.By;
import org.evenwash.logger.wash.Refused;
import org.evenwash.logger.wash.Yard;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.slf4j.LoggerFactory;

/** What somebody who should not be in tries, and what somebody who is in cannot do. */
class IntrudersTest {
    private final TurnableClock clock = new TurnableClock();
    private final ListAppender<ILoggingEvent> log = new ListAppender<>();
    private final Logger root = (Logger) LoggerFactory.getLogger("org.evenwash");
    private Scene scene;
    private Visitor visitor;

    @BeforeEach
    void open(@TempDir Path folder) {
        scene = Scene.populated(folder, clock);
        scene.passwords();
        visitor = new Visitor(scene);
        log.start();
        root.addAppender(log);
    }

    @AfterEach
    void close() {
        root.detachAppender(log);
        scene.close();
    }

    private static void isSignedOut(HttpResponse<String> answer) {
        assertThat(answer.statusCode()).isEqualTo(303);
        assertThat(answer.headers().firstValue("Location").orElse("")).startsWith("/sign-in?to=");
    }

    @Test
    void stranger_isLedToTheSignInPage_andFromThereBack() {
        var answer = visitor.get("/washes?page=1");
        assertThat(answer.headers().firstValue("Location"))
                .contains("/sign-in?to=%2Fwashes%3Fpage%3D1");
        String page = visitor.get("/sign-in?to=%2Fwashes%3Fpage%3D1").body();
        assertThat(page).contains("value=\"/washes?page=1\"").doesNotContain("Alder", "/spirit");
        var signedIn =
                visitor.form(
                        "/sign-in",
                        "name=Cleo&to=%2Fwashes&password=" + Visitor.encoded(Scene.PASSWORD));
        assertThat(signedIn.headers().firstValue("Location")).contains("/washes");
        assertThat(visitor.get("/washes").statusCode()).isEqualTo(200);
    }

    @Test
    void linkThroughTheSignInPage_leadsNowhereElse() {
        for (String away :
                List.of(
                        "//elsewhere.example",
                        "https://elsewhere.example",
                        "/\\elsewhere.example",
                        "javascript:alert(1)",
                        "/a\r\nX: y")) {
            String page = visitor.get("/sign-in?to=" + Visitor.encoded(away)).body();
            assertThat(page).as(away).contains("name=\"to\" value=\"/\"");
        }
    }

    @Test
    void wrongPasswordAndUnknownName_readTheSame() {
        var wrong = visitor.signIn("ada", "heather three jars of");
        var unknown = visitor.signIn("nobody", "heather three jars of");
        assertThat(wrong.statusCode()).isEqualTo(401);
        assertThat(unknown.statusCode()).isEqualTo(401);
        assertThat(wrong.body()).contains("do not fit each other");
        assertThat(unknown.body().replaceAll("nobody|[0-9a-f]{64}", ""))
                .isEqualTo(
                        wrong.body()
                                .replaceAll("value=\"ada\"", "value=\"\"")
                                .replaceAll("[0-9a-f]{64}", ""));
    }

    @Test
    void tenWrongPasswords_lockTheAccount_forAWhile_andAKeeperCanUnlockIt() {
        for (int i = 0; i < 10; i++) {
            assertThat(visitor.signIn("ada", "guess number " + i).statusCode()).isEqualTo(401);
        }
        var locked = visitor.signIn("ada", Scene.PASSWORD);
        assertThat(locked.statusCode()).isEqualTo(429);
        assertThat(locked.headers().firstValue("Retry-After")).contains("900");
        // Another logger over the same database knows of it too.
        var other = new Doors(scene.database, clock, new PersonPassword(4));
        assertThat(other.front.signIn("ada", Scene.PASSWORD, "192.0.2.9"))
                .isInstanceOf(FrontDoor.Outcome.Wait.class);
        other.accounts.unlock(other.accounts.named("ada").id());
        assertThat(other.front.signIn("ada", Scene.PASSWORD, "192.0.2.9"))
                .isInstanceOf(FrontDoor.Outcome.SignedIn.class);
        clock.turn(Duration.ofMinutes(16));
        assertThat(visitor.signIn("ada", Scene.PASSWORD).statusCode()).isEqualTo(303);
    }

    @Test
    void session_countsAtAnotherLoggerOverTheSameDatabase_untilItIsEnded() {
        String secret = cookie(visitor.signIn("ada", Scene.PASSWORD));
        var other = new Doors(scene.database, clock, new PersonPassword(4));

        assertThat(other.withSession(secret)).map(Person::name).contains("ada");
        other.front.signOut(secret);

        isSignedOut(visitor.get("/washes"));
    }

    /** As when a wrong clock is put right: neither a lock nor the throttle may last until the old time. */
    @Test
    void clockSetBackByADay_keepsNobodyOutUntilTomorrow() {
        for (int i = 0; i < 10; i++) {
            visitor.signIn("ada", "guess number " + i);
        }
        for (int i = 0; i < 10; i++) {
            visitor.signIn("nobody", "guess number " + i);
        }
        assertThat(visitor.signIn("cleo", Scene.PASSWORD).statusCode()).isEqualTo(429);

        clock.turn(Duration.ofDays(-1));
        assertThat(visitor.signIn("cleo", Scene.PASSWORD).statusCode()).isEqualTo(429);
        clock.turn(Duration.ofMinutes(16));

        assertThat(visitor.signIn("cleo", Scene.PASSWORD).statusCode()).isEqualTo(303);
        assertThat(visitor.signIn("ada", Scene.PASSWORD).statusCode()).isEqualTo(303);
        assertThat(visitor.signIn("nobody", "guess").statusCode()).isEqualTo(401);
    }

    @Test
    void nameThatDoesNotExist_isLockedLikeOneThatDoes() {
        for (int i = 0; i < 10; i++) {
            assertThat(visitor.signIn("ghost", "guess number " + i).statusCode()).isEqualTo(401);
        }
        assertThat(visitor.signIn("ghost", "guess").statusCode()).isEqualTo(429);
    }

    @Test
    void knownAndUnknownNames_answerAlike_overHours() {
        assertThat(guesses("ghost")).isEqualTo(guesses("ada"));
    }

    /** What a guesser sees who comes back again and again; each time from another address. */
    private List<Class<?>> guesses(String name) {
        List<Class<?>> seen = new ArrayList<>();
        for (int minutes : List.of(0, 1, 1, 1, 1, 5, 1, 1, 1, 2, 1, 13, 3, 1, 20)) {
            clock.turn(Duration.ofMinutes(minutes));
            String address = "192.0.2." + seen.size();
            seen.add(scene.doors.front.signIn(name, "guess", address).getClass());
        }
        assertThat(seen)
                .contains(FrontDoor.Outcome.Wait.class)
                .endsWith(FrontDoor.Outcome.Wrong.class);
        return seen;
    }

    @Test
    void unlocked_letsInAtOnce_andSoDoesANewPassword() {
        var ada = scene.doors.accounts.named("ada");
        wrong("ada", 10);
        assertThat(visitor.signIn("ada", Scene.PASSWORD).statusCode()).isEqualTo(429);
        scene.doors.accounts.unlock(ada.id());
        assertThat(visitor.signIn("ada", Scene.PASSWORD).statusCode()).isEqualTo(303);
        clock.turn(Duration.ofMinutes(3));
        wrong("ada", 10);
        scene.doors.accounts.setPassword(ada.id(), "four jars of heather");
        assertThat(visitor.signIn("ada", "four jars of heather").statusCode()).isEqualTo(303);
    }

    private void wrong(String name, int times) {
        for (int i = 0; i < times; i++) {
            assertThat(visitor.signIn(name, "guess number " + i).statusCode()).isEqualTo(401);
        }
    }

    @Test
    void lockThatHasRunOut_beginsTheCountAnew() {
        wrong("ada", 10);
        clock.turn(Duration.ofMinutes(16));
        wrong("ada", 1);
        assertThat(visitor.signIn("ada", Scene.PASSWORD).statusCode()).isEqualTo(303);
    }

    @Test
    void guessesAllAtOnce_areNoMoreThanOneAfterTheOther() throws Exception {
        var all = Executors.newFixedThreadPool(30);
        try {
            List<Callable<FrontDoor.Outcome>> guesses = new ArrayList<>();
            for (int i = 0; i < 30; i++) {
                String address = "192.0.2." + i;
                guesses.add(() -> scene.doors.front.signIn("ada", "guess", address));
            }
            int lookedAt = 0;
            for (var guess : all.invokeAll(guesses)) {
                lookedAt += guess.get() instanceof FrontDoor.Outcome.Wrong ? 1 : 0;
            }
            assertThat(lookedAt).isEqualTo(10);
        } finally {
            all.shutdownNow();
        }
    }

    @Test
    void pageLeftOpen_guessingTheOldPassword_locksTheAccount() {
        visitor.signIn("cleo", Scene.PASSWORD);
        for (int i = 0; i < 10; i++) {
            assertThat(changed(visitor, "guess number " + i).statusCode()).isEqualTo(422);
        }
        var locked = changed(visitor, Scene.PASSWORD);
        assertThat(locked.statusCode()).isEqualTo(409);
        assertThat(locked.body()).contains("locked after too many wrong passwords");
        assertThat(new Visitor(scene).signIn("cleo", Scene.PASSWORD).statusCode()).isEqualTo(429);
        scene.doors.accounts.unlock(scene.doors.accounts.named("cleo").id());
        assertThat(changed(visitor, Scene.PASSWORD).statusCode()).isEqualTo(200);
    }

    private static HttpResponse<String> changed(Visitor visitor, String old) {
        return visitor.post(
                "/api/account/password",
                "{\"oldPassword\":\"" + old + "\",\"password\":\"four jars of heather\"}");
    }

    @Test
    void keepersPageLeftOpen_setsNoPasswordOfItsOwnAccount_withoutTheOldOne() {
        visitor.signIn("ada", Scene.PASSWORD);
        var ada = scene.doors.accounts.named("ada");
        var brook = scene.doors.accounts.named("brook");
        String body = body("\"password\":\"four jars of heather\"", Scene.PASSWORD);
        var own = visitor.post("/api/accounts/" + ada.id() + "/password", body);
        assertThat(own.statusCode()).isEqualTo(409);
        assertThat(own.body()).contains("Your account");
        String page = visitor.get("/accounts").body();
        assertThat(page)
                .doesNotContain("/api/accounts/" + ada.id() + "/password")
                .contains("/api/accounts/" + brook.id() + "/password");
    }

    /** Each way to let somebody in for longer than the session lasts, and what it changes. */
    @Test
    void keepersPageLeftOpen_orItsTokenFound_letsNobodyElseIn() {
        visitor.signIn("ada", Scene.PASSWORD);
        String found = scene.token("ada", "office", Role.KEEPER, 30);
        var accounts = scene.doors.accounts;
        Account brook = accounts.named("brook");
        Account cleo = accounts.named("cleo");
        accounts.close(brook.id());
        String cleos = "/api/accounts/" + cleo.id();
        var ways = new LinkedHashMap<String, String>();
        ways.put(
                "/api/accounts",
                "\"signInName\":\"mina\",\"person\":\"Mina\",\"role\":\"KEEPER\",\"password\":\"four jars of heather\"");
        ways.put("/api/tokens", "\"tokenName\":\"mine\",\"role\":\"KEEPER\",\"days\":30");
        ways.put(cleos + "/role", "\"role\":\"KEEPER\"");
        ways.put(cleos + "/password", "\"password\":\"four jars of heather\"");
        ways.put("/api/accounts/" + brook.id() + "/reopen", null);
        Supplier<Object> state =
                () ->
                        List.of(
                                accounts.all().stream()
                                        .map(one -> one.name() + one.role() + one.open())
                                        .toList(),
                                scene.doors.tokens.inUse().stream().map(ApiToken::name).toList(),
                                scene.database.read(h -> Accounts.passwordHash(h, cleo.id())));
        Object before = state.get();
        ways.forEach(
                (way, fields) -> {
                    assertThat(visitor.post(way, body(fields, null)).body())
                            .as(way)
                            .contains("Your own password is missing");
                    assertThat(visitor.post(way, body(fields, "a guess")).statusCode())
                            .as(way)
                            .isEqualTo(422);
                    assertThat(postWithToken(found, way, body(fields, null)))
                            .as(way)
                            .isIn(409, 422);
                });
        assertThat(state.get()).isEqualTo(before);

        ways.forEach(
                (way, fields) ->
                        assertThat(visitor.post(way, body(fields, Scene.PASSWORD)).statusCode())
                                .as(way)
                                .isIn(200, 201));
        assertThat(accounts.named("mina").role()).isEqualTo(Role.KEEPER);
        assertThat(accounts.named("cleo").role()).isEqualTo(Role.KEEPER);
        assertThat(accounts.named("brook").open()).isTrue();
    }

    private static String body(String fields, String ownPassword) {
        return Stream.of(
                        fields,
                        ownPassword == null ? null : "\"ownPassword\":\"" + ownPassword + "\"")
                .filter(Objects::nonNull)
                .collect(Collectors.joining(",", "{", "}"));
    }

    /** Otherwise the page could guess for ever, unlocking itself after every ninth try. */
    @Test
    void keepersPageLeftOpen_guessingTheOwnPassword_locksTheAccount_andDoesNotUnlockIt() {
        visitor.signIn("ada", Scene.PASSWORD);
        var ada = scene.doors.accounts.named("ada");
        String way = "/api/accounts/" + scene.doors.accounts.named("brook").id() + "/role";
        for (int i = 0; i < 10; i++) {
            String guess = body("\"role\":\"KEEPER\"", "guess number " + i);
            assertThat(visitor.post(way, guess).statusCode()).isEqualTo(422);
        }
        var unlocked = visitor.post("/api/accounts/" + ada.id() + "/unlock", "{}");
        assertThat(unlocked.statusCode()).isEqualTo(409);
        assertThat(visitor.get("/accounts").body())
                .contains("locked after wrong passwords")
                .doesNotContain("/unlock");
        String right = body("\"role\":\"KEEPER\"", Scene.PASSWORD);
        assertThat(visitor.post(way, right).statusCode()).isEqualTo(409);
        assertThat(scene.doors.accounts.named("brook").role()).isEqualTo(Role.REVIEWER);
    }

    @Test
    void tokenMadeFromAStolenSession_endsWithIt() {
        visitor.signIn("ada", Scene.PASSWORD);
        String first = scene.token("ada", "office", Role.KEEPER, 30);
        assertThat(visitor.get("/account").body()).contains("new token: office.");
        visitor.post("/api/account/sign-out", "{}");
        assertThat(withToken(first, "/api/washes")).isEqualTo(401);

        String second = scene.token("ada", "office", Role.KEEPER, 30);
        Visitor again = new Visitor(scene);
        again.signIn("ada", Scene.PASSWORD);
        assertThat(changed(again, Scene.PASSWORD).statusCode()).isEqualTo(200);
        assertThat(withToken(second, "/api/washes")).isEqualTo(401);

        var brook = scene.doors.accounts.named("brook");
        String third = scene.token("brook", "office", Role.REVIEWER, 30);
        scene.doors.accounts.close(brook.id());
        scene.doors.accounts.reopen(brook.id());
        assertThat(withToken(third, "/api/washes")).isEqualTo(401);
    }

    /** bcrypt takes a while, and a keeper may act in it. */
    private static final class WhileItIsLookedAt extends PersonPassword {
        private final Runnable meanwhile;

        WhileItIsLookedAt(Runnable meanwhile) {
            super(4);
            this.meanwhile = meanwhile;
        }

        @Override
        public boolean matches(String password, String hash) {
            boolean right = super.matches(password, hash);
            meanwhile.run();
            return right;
        }
    }

    private Doors doorsWhere(Runnable meanwhile) {
        return new Doors(scene.database, clock, new WhileItIsLookedAt(meanwhile));
    }

    private Doors doorsWhereAKeeperGivesANewOne(Account of) {
        return doorsWhere(() -> scene.doors.accounts.setPassword(of.id(), "four jars of heather"));
    }

    @Test
    void oldPassword_replacedWhileItIsLookedAt_letsNobodyIn() {
        var cleo = scene.doors.accounts.named("cleo");
        Doors slow = doorsWhereAKeeperGivesANewOne(cleo);
        assertThat(slow.front.signIn("cleo", Scene.PASSWORD, "192.0.2.1"))
                .isInstanceOf(FrontDoor.Outcome.Wrong.class);

        var brook = scene.doors.accounts.named("brook");
        Doors closing = doorsWhere(() -> scene.doors.accounts.close(brook.id()));
        assertThat(closing.front.signIn("brook", Scene.PASSWORD, "192.0.2.1"))
                .isInstanceOf(FrontDoor.Outcome.Wrong.class);
    }

    @Test
    void keepersNewPassword_staysInPlaceOfOneSetWithTheOld() {
        var cleo = scene.doors.accounts.named("cleo");
        Doors slow = doorsWhereAKeeperGivesANewOne(cleo);
        assertThatThrownBy(
                        () ->
                                slow.accounts.changePassword(
                                        cleo.id(), Scene.PASSWORD, "five jars of clover"))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("was replaced by a keeper meanwhile");
        assertThat(scene.doors.front.signIn("cleo", "four jars of heather", "192.0.2.1"))
                .isInstanceOf(FrontDoor.Outcome.SignedIn.class);
    }

    @Test
    void sessionThatEnded_makesNoTokenAnyMore() {
        String session = scene.session("ada");
        scene.doors.accounts.signOutEverywhere(scene.doors.accounts.named("ada").id());
        assertThatThrownBy(() -> scene.doors.tokens.make(session, "office", Role.KEEPER, 30))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("is not signed in any more");
        assertThat(scene.doors.tokens.inUse()).isEmpty();
    }

    /** As long a name as an import takes. */
    @Test
    void personWithALongName_getsAnAccount() {
        String person = "Wilhelmina ".repeat(11).substring(0, Yard.LONGEST_NAME).strip();
        scene.place.yard().addOperator(person, By.nobody());
        visitor.signIn("ada", Scene.PASSWORD);
        var added =
                visitor.post(
                        "/api/accounts",
                        "{\"signInName\":\"mina\",\"person\":\"%1$s\",\"role\":\"OPERATOR\",\"password\":\"%2$s\",\"ownPassword\":\"%2$s\"}"
                                .formatted(person, Scene.PASSWORD));
        assertThat(added.body()).contains("mina").doesNotContain("characters");
        assertThat(scene.doors.accounts.named("mina").role()).isEqualTo(Role.OPERATOR);
    }

    @Test
    void passwordTypedIntoTheNameField_isNotInTheLog() {
        visitor.signIn("heather", "cleo");
        wrong("heather", 9);
        assertThat(visitor.signIn("heather", "cleo").statusCode()).isEqualTo(429);
        visitor.signIn("cleo", "guess");
        assertThat(log.list)
                .extracting(ILoggingEvent::getFormattedMessage)
                .noneMatch(line -> line.contains("heather"))
                .contains("sign-in as cleo from 127.0.0.1: wrong");
    }

    @Test
    void oneAddress_tryingManyNames_isSlowedDown() {
        int refused = 0;
        for (int i = 0; i < 30; i++) {
            refused += visitor.signIn("name" + i, "guess").statusCode() == 429 ? 1 : 0;
        }
        assertThat(refused).isEqualTo(10);
        clock.turn(Duration.ofMinutes(3));
        assertThat(visitor.signIn("cleo", Scene.PASSWORD).statusCode()).isEqualTo(303);
    }

    @Test
    void session_endsWhenIdle_andAtTheLatestAfterAWeek() {
        visitor.signIn("cleo", Scene.PASSWORD);
        assertThat(visitor.get("/washes").statusCode()).isEqualTo(200);
        clock.turn(FrontDoor.IDLE.plusSeconds(1));
        isSignedOut(visitor.get("/washes"));

        visitor.signIn("cleo", Scene.PASSWORD);
        Duration used = Duration.ZERO;
        while (used.compareTo(FrontDoor.LONGEST) < 0) {
            assertThat(visitor.get("/more").statusCode()).as("" + used).isEqualTo(200);
            clock.turn(Duration.ofHours(11));
            used = used.plusHours(11);
        }
        isSignedOut(visitor.get("/washes"));
    }

    @Test
    void signingIn_givesANewSession_andSigningOutEndsIt() {
        HttpResponse<String> before = visitor.get("/sign-in");
        String planted = cookie(before);
        HttpResponse<String> after = visitor.signIn("cleo", Scene.PASSWORD);
        assertThat(cookie(after)).isNotEqualTo(planted).matches("[0-9a-f]{64}");
        assertThat(after.headers().firstValue("Set-Cookie").orElse(""))
                .contains("HttpOnly", "SameSite=Lax", "Path=/");
        String kept = cookie(after);
        visitor.form("/sign-out", "x=y");
        HttpRequest.Builder stolen =
                new Visitor(scene).request("/washes").header("Cookie", "evenwash-session=" + kept);
        isSignedOut(new Visitor(scene).send(stolen));
    }

    private static String cookie(HttpResponse<String> answer) {
        String set = answer.headers().firstValue("Set-Cookie").orElse("");
        return set.replaceAll("^evenwash-session=([^;]*);.*", "$1");
    }

    @Test
    void signedOutEverywhere_endsEverySession_andAClosedAccountOrANewPasswordToo() {
        Visitor phone = new Visitor(scene);
        visitor.signIn("cleo", Scene.PASSWORD);
        phone.signIn("cleo", Scene.PASSWORD);
        visitor.post("/api/account/sign-out", "{}");
        isSignedOut(phone.get("/washes"));
        isSignedOut(visitor.get("/washes"));

        var cleo = scene.doors.accounts.named("cleo");
        phone.signIn("cleo", Scene.PASSWORD);
        scene.doors.accounts.setPassword(cleo.id(), "four jars of heather");
        isSignedOut(phone.get("/washes"));
        phone.signIn("cleo", "four jars of heather");
        assertThat(phone.get("/washes").statusCode()).isEqualTo(200);
        scene.doors.accounts.close(cleo.id());
        isSignedOut(phone.get("/washes"));
        assertThat(phone.signIn("cleo", "four jars of heather").statusCode()).isEqualTo(401);
    }

    @Test
    void lastKeeper_canNeitherBeClosedNorLowered() {
        var ada = scene.doors.accounts.named("ada");
        assertThatThrownBy(() -> scene.doors.accounts.close(ada.id()))
                .hasMessageContaining("last keeper");
        assertThatThrownBy(() -> scene.doors.accounts.setRole(ada.id(), Role.OPERATOR))
                .hasMessageContaining("last keeper");
        assertThat(scene.doors.accounts.named("ada").role()).isEqualTo(Role.KEEPER);
    }

    @Test
    void roleThatWasTakenAway_isGoneWithTheNextRequest() {
        visitor.signIn("brook", Scene.PASSWORD);
        assertThat(visitor.post("/api/standards", "{\"noThreshold\":true}").statusCode())
                .isEqualTo(200);
        scene.doors.accounts.setRole(scene.doors.accounts.named("brook").id(), Role.OPERATOR);
        var answer = visitor.post("/api/standards", "{\"noThreshold\":true}");
        assertThat(answer.statusCode()).isEqualTo(403);
        assertThat(answer.body()).contains("needs the role reviewer");
    }

    @Test
    void correctionAndCount_carryWhoIsSignedIn_whateverTheFormSays() {
        visitor.signIn("cleo", Scene.PASSWORD);
        var cleo = scene.doors.accounts.named("cleo").operatorId();
        var count = scene.place.sheets().of(scene.counted.id()).passes().get(0).counts().get(0);
        visitor.post(
                "/api/counts/" + count.id() + "/correction",
                "{\"version\":1,\"mites\":8,\"why\":\"one was a seed\",\"by\":\""
                        + scene.ada.id()
                        + "\"}");
        assertThat(scene.place.sheets().of(scene.counted.id()).corrections())
                .anyMatch(one -> cleo.equals(one.correctedBy()) && "8".equals(one.later()));
    }

    @Test
    void blindRecount_isEnteredByItsCounterAlone() {
        visitor.signIn("cleo", Scene.PASSWORD);
        String path = "/api/washes/" + scene.counted.id() + "/counts";
        String body = "{\"mites\":9,\"recount\":true,\"blind\":true";
        var forAnother = visitor.post(path, body + ",\"countedBy\":\"" + scene.brook.id() + "\"}");
        assertThat(forAnother.statusCode()).isEqualTo(422);
        assertThat(forAnother.body())
                .contains("a blind recount is entered by the person who counted");
        var own = visitor.post(path, body + "}");
        assertThat(own.statusCode()).as(own.body()).isEqualTo(201);
        assertThat(Visitor.read(own).get("result").get("countedBy").asText())
                .isEqualTo(scene.doors.accounts.named("cleo").operatorId().toString());
        assertThat(scene.place.sheets().of(scene.counted.id()).passes())
                .anyMatch(pass -> pass.counts().size() == 3);
    }

    @Test
    void token_mayNoMoreThanItsAccount_andEndsWithIt() {
        var brook = scene.doors.accounts.named("brook");
        String secret = scene.token("brook", "office", Role.REVIEWER, 30);
        assertThat(withToken(secret, "/api/washes")).isEqualTo(200);
        assertThat(withToken(secret, "/api/accounts")).isEqualTo(403);
        assertThat(withToken(secret + "0", "/api/washes")).isEqualTo(401);
        clock.turn(Duration.ofDays(31));
        assertThat(withToken(secret, "/api/washes")).isEqualTo(401);
        String second = scene.token("brook", "office", Role.REVIEWER, 30);
        scene.doors.accounts.close(brook.id());
        assertThat(withToken(second, "/api/washes")).isEqualTo(401);
        assertThatThrownBy(() -> scene.token("cleo", "more", Role.KEEPER, 1))
                .hasMessageContaining("more than the account");
    }

    private int withToken(String secret, String path) {
        return withToken(secret, new Visitor(scene).request(path));
    }

    private int withToken(String secret, HttpRequest.Builder request) {
        return new Visitor(scene)
                .send(
                        request.header("Accept", "application/json")
                                .header("Authorization", "Bearer " + secret))
                .statusCode();
    }

    private int postWithToken(String secret, String path, String json) {
        return withToken(
                secret,
                new Visitor(scene)
                        .request(path)
                        .header("Content-Type", "application/json")
                        .POST(HttpRequest.BodyPublishers.ofString(json)));
    }

    /** Every text that comes in ends as data: bound in SQL, escaped in a page. */
    @Test
    void sqlAndTemplateAndMarkup_areOnlyText() {
        visitor.signIn("ada", Scene.PASSWORD);
        for (String text :
                List.of(
                        "x'); DELETE FROM wash; --",
                        "\" onmouseover=\"alert(1)",
                        "<script>alert(1)</script>",
                        "${7*7} @import java.lang.Runtime",
                        "#{7*7} {{7*7}}")) {
            var answer =
                    visitor.post(
                            "/api/operators",
                            "{\"name\":"
                                    + com.fasterxml.jackson.databind.node.TextNode.valueOf(text)
                                    + "}");
            assertThat(answer.statusCode()).as(text + answer.body()).isEqualTo(201);
            String page = visitor.get("/operators").body();
            assertThat(page).doesNotContain("<script>alert", ">49<");
            // There names stand in attributes, which a quote would end.
            assertThat(visitor.get("/accounts").body()).doesNotContain("\" onmouseover=\"alert");
            assertThat(scene.database.read(Operators::all))
                    .anyMatch(one -> one.name().equals(text));
            var search = visitor.get("/api/washes?colonyId=" + Visitor.encoded(text));
            assertThat(search.statusCode()).as(text).isEqualTo(400);
        }
        assertThat(scene.place.washes().wash(scene.counted.id()).removedAt()).isNull();
    }

    @Test
    void pathsThatClimb_leadNowhere() {
        visitor.signIn("ada", Scene.PASSWORD);
        for (String path :
                List.of(
                        "/assets/../db/migration/V1__yard.sql",
                        "/assets/%2e%2e/db/migration/V1__yard.sql",
                        "/assets/..%2f..%2fetc/passwd",
                        "/assets/css/..;/..;/logback.xml",
                        "/washes/..%2f..%2f..%2fetc%2fpasswd",
                        "/api/photos/%2e%2e%2fevenwash.db",
                        "//etc/passwd")) {
            var answer = visitor.get(path);
            assertThat(answer.statusCode()).as(path).isIn(400, 404);
            assertThat(answer.body()).as(path).doesNotContain("CREATE TABLE", "root:");
        }
    }

    @Test
    void photoThatIsTooLargeOrNoPicture_isRefused() {
        visitor.signIn("cleo", Scene.PASSWORD);
        String path = "/api/washes/" + scene.counted.id() + "/photos";
        byte[] large = new byte[4 * 1_024 * 1_024 + 1];
        assertThat(upload(path, large)).isEqualTo(413);
        byte[] page = "<svg onload='alert(1)'/>".getBytes(StandardCharsets.UTF_8);
        assertThat(upload(path, page)).isEqualTo(422);
    }

    private int upload(String path, byte[] body) {
        String csrf = visitor.json("/api/session").get("csrf").asText();
        return visitor.send(
                        visitor.request(path)
                                .POST(HttpRequest.BodyPublishers.ofByteArray(body))
                                .header("Content-Type", "image/jpeg")
                                .header("X-CSRF-Token", csrf))
                .statusCode();
    }

    @Test
    void nothingTyped_beginsANewLineInTheLog_andNoSecretIsInIt() {
        visitor.signIn("ada\nINFO FrontDoor: keeper signed in", "wrong secret word");
        visitor.signIn("ada", Scene.PASSWORD);
        assertThatThrownBy(() -> scene.token("ada", "a\r\nline", null, 1))
                .hasMessageContaining("token name");
        String token = scene.token("ada", "$(reboot) {}", null, 1);
        visitor.post(
                "/api/account/password",
                "{\"oldPassword\":\""
                        + Scene.PASSWORD
                        + "\",\"password\":\"four jars of heather\"}");
        visitor.get("/nowhere%0aINFO%20forged");
        assertThat(log.list).isNotEmpty();
        for (ILoggingEvent event : log.list) {
            assertThat(event.getFormattedMessage())
                    .doesNotContain("\n", "\r")
                    .doesNotContain(
                            Scene.PASSWORD, "wrong secret word", "four jars of heather", token);
        }
    }

    @Test
    void nobodyWithAPassword_orNoTls_thePagesStayOnThisMachine(@TempDir Path other) {
        try (Scene empty = Scene.empty(other)) {
            assertThatThrownBy(() -> serve(empty, "0.0.0.0", false))
                    .isInstanceOf(StationTrouble.class)
                    .hasMessageStartingWith("nobody has a password yet");
            assertThatThrownBy(() -> serve(empty, "127.0.0.1", true))
                    .isInstanceOf(StationTrouble.class)
                    .hasMessageStartingWith("nobody has a password yet");
        }
        assertThatThrownBy(() -> serve(scene, "0.0.0.0", false))
                .isInstanceOf(StationTrouble.class)
                .hasMessageContaining("without TLS");
        assertThatThrownBy(() -> serve(scene, "0.0.0.0", true))
                .isInstanceOf(StationTrouble.class)
                .hasMessageContaining("without TLS");
    }

    private static void serve(Scene scene, String host, boolean behindProxy) {
        WebSettings settings = new WebSettings(host, 0, Set.of(), null, behindProxy);
        WebServer.start(scene.database, scene.place, scene.board, settings, scene.around).close();
    }

    @Test
    void behindAProxy_onlyWhatCameByTlsIsServed_andTheCookieSaysSo() throws Exception {
        WebSettings settings = new WebSettings("127.0.0.1", 0, Set.of("yard.example"), null, true);
        try (WebServer server =
                WebServer.start(scene.database, scene.place, scene.board, settings, scene.around)) {
            var client = java.net.http.HttpClient.newHttpClient();
            var plain = HttpRequest.newBuilder(server.address().resolve("/sign-in")).build();
            var text = HttpResponse.BodyHandlers.ofString();
            assertThat(client.send(plain, text).statusCode()).isEqualTo(421);
            var health = HttpRequest.newBuilder(server.address().resolve("/health")).build();
            assertThat(client.send(health, text).body()).isEqualTo("up\n");
            var forwarded =
                    HttpRequest.newBuilder(server.address().resolve("/sign-in"))
                            .header("X-Forwarded-Proto", "https")
                            .build();
            var answer = client.send(forwarded, text);
            assertThat(answer.statusCode()).isEqualTo(200);
            assertThat(answer.headers().firstValue("Set-Cookie").orElse(""))
                    .startsWith("__Host-evenwash-session=")
                    .contains("Secure", "HttpOnly");
            assertThat(answer.headers().firstValue("Strict-Transport-Security")).isPresent();
        }
    }

    /** A proxy may add a line of its own below the one that the client made up. */
    @Test
    void addressMadeUpInALineOfItsOwn_isNotTakenForTheProxys() throws Exception {
        WebSettings settings = new WebSettings("127.0.0.1", 0, Set.of("yard.example"), null, true);
        try (WebServer server =
                WebServer.start(scene.database, scene.place, scene.board, settings, scene.around)) {
            var client = java.net.http.HttpClient.newHttpClient();
            var text = HttpResponse.BodyHandlers.ofString();
            var page =
                    client.send(
                            proxied(server, "/sign-in").header("Accept", "text/html").build(),
                            text);
            String cookie = page.headers().firstValue("Set-Cookie").orElse("").split(";", 2)[0];
            String token = page.body().replaceAll("(?s).*name=\"csrf\" value=\"([^\"]*)\".*", "$1");
            for (int i = 0; i < 21; i++) {
                var answer =
                        client.send(
                                proxied(server, "/sign-in")
                                        .header("X-Forwarded-For", "203.0.113." + i)
                                        .header("X-Forwarded-For", "192.0.2.7, 198.51.100.4")
                                        .header("Cookie", cookie)
                                        .header("Content-Type", "application/x-www-form-urlencoded")
                                        .POST(
                                                HttpRequest.BodyPublishers.ofString(
                                                        "name=name"
                                                                + i
                                                                + "&password=guess&csrf="
                                                                + token))
                                        .build(),
                                text);
                assertThat(answer.statusCode()).as("" + i).isEqualTo(i < 20 ? 401 : 429);
            }
        }
        assertThat(log.list)
                .extracting(ILoggingEvent::getFormattedMessage)
                .filteredOn(line -> line.startsWith("sign-in "))
                .hasSize(21)
                .allMatch(line -> line.contains("from 198.51.100.4"));
    }

    private static HttpRequest.Builder proxied(WebServer server, String path) {
        return HttpRequest.newBuilder(server.address().resolve(path))
                .header("X-Forwarded-Proto", "https");
    }

    @Test
    void firstPassword_isSetAtThisMachine_once(@TempDir Path other) {
        try (Scene empty = Scene.empty(other)) {
            Visitor first = new Visitor(empty);
            assertThat(first.get("/accounts").body()).contains("Set the first password");
            assertThat(first.get("/washes").statusCode()).isEqualTo(200);
            String body = "{\"signInName\":\"Ada\",\"person\":\"Ada\",\"password\":\"%s\"}";
            var easy = first.post("/api/accounts/first", body.formatted("ada12345678"));
            assertThat(easy.statusCode()).isEqualTo(422);
            assertThat(easy.body()).contains("contains the name").doesNotContain("ada12345678");
            assertThat(
                            first.post("/api/accounts/first", body.formatted(Scene.PASSWORD))
                                    .statusCode())
                    .isEqualTo(201);
            assertThat(first.get("/washes").statusCode()).as("signed in at once").isEqualTo(200);
            isSignedOut(new Visitor(empty).get("/washes"));
            var again =
                    new Visitor(empty)
                            .post("/api/accounts/first", body.formatted("five jars of heather"));
            assertThat(again.statusCode()).isEqualTo(401);
        }
    }

    @Test
    void unsignedWrite_changesNothing() {
        long before = scene.place.yard().apiaries().size();
        var answer =
                visitor.post(
                        "/api/apiaries",
                        "{\"name\":\"Forged\",\"timeZone\":\"Etc/UTC\",\"hemisphere\":\"NORTHERN\"}");
        assertThat(answer.statusCode()).isEqualTo(401);
        assertThat(scene.place.yard().apiaries()).hasSize((int) before);
    }
}
