package org.evenwash.analysis;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.importer.ImportOption.DoNotIncludeTests;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** The analysis is arithmetic: the same inputs give the same result anywhere, at any time. */
@AnalyzeClasses(packages = "org.evenwash.analysis", importOptions = DoNotIncludeTests.class)
class PurityTest {

    @ArchTest
    static final ArchRule dependsOnlyOnJavaAndTheNumericsLibrary =
            classes()
                    .should()
                    .onlyDependOnClassesThat()
                    .resideInAnyPackage("java..", "org.hipparchus..", "org.evenwash.analysis..");

    @ArchTest
    static final ArchRule touchesNoFileSocketOrThread =
            noClasses()
                    .should()
                    .dependOnClassesThat()
                    .resideInAnyPackage(
                            "java.io..",
                            "java.nio.file..",
                            "java.nio.channels..",
                            "java.net..",
                            "java.sql..",
                            "java.util.concurrent..");

    @ArchTest
    static final ArchRule startsNoThreadOrProcess =
            noClasses()
                    .should()
                    .dependOnClassesThat()
                    .belongToAnyOf(
                            Thread.class,
                            ThreadLocal.class,
                            Process.class,
                            ProcessBuilder.class,
                            Runtime.class);

    @ArchTest
    static final ArchRule readsNoClock =
            noClasses().should().dependOnClassesThat().belongToAnyOf(java.time.Clock.class);

    @ArchTest
    static final ArchRule asksNobodyForTheTime =
            noClasses()
                    .should()
                    .callMethod(System.class, "currentTimeMillis")
                    .orShould()
                    .callMethod(System.class, "nanoTime")
                    .orShould()
                    .callMethod(java.time.Instant.class, "now")
                    .orShould()
                    .callMethod(java.time.LocalDate.class, "now")
                    .orShould()
                    .callMethod(java.time.LocalDateTime.class, "now")
                    .orShould()
                    .callMethod(java.time.ZonedDateTime.class, "now");
}
