package org.evenwash.controller.process;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.importer.ImportOption.DoNotIncludeTests;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** The process knows only the language: no clock, no thread, no file, no neighbour. */
@AnalyzeClasses(packages = "org.evenwash.controller", importOptions = DoNotIncludeTests.class)
class PurityTest {
    private static final String PROCESS = "org.evenwash.controller.process..";

    @ArchTest
    static final ArchRule process_importsOnlyTheLanguage =
            classes()
                    .that()
                    .resideInAPackage(PROCESS)
                    .should()
                    .onlyDependOnClassesThat()
                    .resideInAnyPackage(
                            PROCESS,
                            "java.lang..",
                            "java.util",
                            "java.util.function",
                            "java.util.stream",
                            "java.time");

    @ArchTest
    static final ArchRule process_readsNoClockAndStartsNoThread =
            noClasses()
                    .that()
                    .resideInAPackage(PROCESS)
                    .should()
                    .callMethod(System.class, "nanoTime")
                    .orShould()
                    .callMethod(System.class, "currentTimeMillis")
                    .orShould()
                    .callMethod(java.time.Instant.class, "now")
                    .orShould()
                    .callMethod(java.util.UUID.class, "randomUUID")
                    .orShould()
                    .dependOnClassesThat()
                    .areAssignableTo(Thread.class);

    @ArchTest
    static final ArchRule port_knowsOnlyTheProcessAndTheContract =
            classes()
                    .that()
                    .resideInAPackage("org.evenwash.controller.port..")
                    .should()
                    .onlyDependOnClassesThat()
                    .resideInAnyPackage(
                            PROCESS,
                            "org.evenwash.controller.port..",
                            "org.evenwash.record..",
                            "java..");

    @ArchTest
    static final ArchRule sim_knowsOnlyProcessAndPorts =
            classes()
                    .that()
                    .resideInAPackage("org.evenwash.controller.sim..")
                    .should()
                    .onlyDependOnClassesThat()
                    .resideInAnyPackage(
                            PROCESS,
                            "org.evenwash.controller.port..",
                            "org.evenwash.controller.sim..",
                            "java..");
}
