package org.rootling;

import org.junit.jupiter.api.Test;
import org.springframework.modulith.core.ApplicationModules;

class ModularityTests {

    @Test
    void modulesKnowOnlyWhatTheyDeclareAndFormNoCircle() {
        ApplicationModules.of(Rootling.class).verify();
    }
}
