package org.rootling;

import static com.tngtech.archunit.core.domain.JavaCall.Predicates.target;
import static com.tngtech.archunit.core.domain.properties.HasName.Predicates.nameMatching;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.methods;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaMethod;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchCondition;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.lang.ConditionEvents;
import com.tngtech.archunit.lang.SimpleConditionEvent;
import jakarta.persistence.ElementCollection;
import jakarta.persistence.ManyToMany;
import jakarta.persistence.ManyToOne;
import jakarta.persistence.OneToMany;
import jakarta.persistence.OneToOne;
import org.springframework.transaction.annotation.Transactional;

@AnalyzeClasses(packages = "org.rootling", importOptions = ImportOption.DoNotIncludeTests.class)
class ArchitectureTests {

    @ArchTest
    static final ArchRule controllersEntitiesAndRepositoriesAreNotPublic = classes()
            .that()
            .areAnnotatedWith("org.springframework.stereotype.Controller")
            .or()
            .areAnnotatedWith("org.springframework.web.bind.annotation.RestController")
            .or()
            .areAnnotatedWith("jakarta.persistence.Entity")
            .or()
            .areAssignableTo("org.springframework.data.repository.Repository")
            .should()
            .notBePublic();

    @ArchTest
    static final ArchRule calculatorsArePlainJava = noClasses()
            .that()
            .resideInAPackage("..calc..")
            .should()
            .dependOnClassesThat(new DescribedPredicate<JavaClass>("of a framework, database or clock") {
                @Override
                public boolean test(JavaClass other) {
                    String name = other.getPackageName();
                    return (name.startsWith("org.springframework") && !name.startsWith("org.springframework.modulith"))
                            || name.startsWith("jakarta.")
                            || name.startsWith("java.sql")
                            || name.startsWith("org.hibernate")
                            || other.getFullName().equals("java.time.Clock");
                }
            })
            .allowEmptyShould(true);

    @ArchTest
    static final ArchRule nothingReadsTheWallClockOfTheMachine = noClasses()
            .should()
            .callMethod(java.time.LocalDate.class, "now")
            .orShould()
            .callMethod(java.time.LocalDateTime.class, "now")
            .orShould()
            .callMethod(java.time.Instant.class, "now");

    @ArchTest
    static final ArchRule webDoesNotReachTheDatabase = noClasses()
            .that()
            .resideInAPackage("..web..")
            .and()
            .resideOutsideOfPackage("org.rootling.platform..")
            .should()
            .dependOnClassesThat()
            .resideInAnyPackage("java.sql..", "org.springframework.jdbc..", "jakarta.persistence..");

    /** No proxies of entities are made ({@code platform.db.NoProxies}), so nothing may be loaded when first looked at. */
    @ArchTest
    static final ArchRule entitiesHoldIdsAndNoOtherEntities = noClasses()
            .should()
            .dependOnClassesThat()
            .belongToAnyOf(ManyToOne.class, OneToOne.class, OneToMany.class, ManyToMany.class, ElementCollection.class)
            .orShould()
            .callMethodWhere(target(nameMatching("getReference(ById)?")));

    /** Spring commits when a checked exception comes through, unless it is told otherwise: half of the work would stay. */
    @ArchTest
    static final ArchRule whatMayFailWithACheckedExceptionIsTakenBack = methods()
            .that()
            .areAnnotatedWith(Transactional.class)
            .should(new ArchCondition<JavaMethod>("name its checked exceptions in rollbackFor") {
                @Override
                public void check(JavaMethod method, ConditionEvents events) {
                    boolean checked = method.getThrowsClause().getTypes().stream()
                            .anyMatch(thrown -> !thrown.isAssignableTo(RuntimeException.class));
                    boolean named =
                            method.getAnnotationOfType(Transactional.class).rollbackFor().length > 0;
                    if (checked && !named) {
                        events.add(SimpleConditionEvent.violated(method, method.getFullName()));
                    }
                }
            });
}
