package org.rootling.support;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import org.rootling.Rootling;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.boot.webmvc.test.autoconfigure.MockMvcPrint;
import org.springframework.context.annotation.Import;
import org.springframework.test.context.ContextConfiguration;

/** A test of the whole application on real PostgreSQL, through MockMvc. One context serves all of them. */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@SpringBootTest(classes = Rootling.class, properties = "rootling.setup-code=test-code")
@ContextConfiguration(initializers = TestDatabaseInitializer.class)
@AutoConfigureMockMvc(print = MockMvcPrint.NONE)
@Import(TestVineyards.class)
public @interface AppTest {}
