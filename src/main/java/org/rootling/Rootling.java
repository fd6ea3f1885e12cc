package org.rootling;

import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.context.annotation.FullyQualifiedAnnotationBeanNameGenerator;

/** Starts Rootling. */
@SpringBootApplication(nameGenerator = FullyQualifiedAnnotationBeanNameGenerator.class)
public class Rootling {

    public static void main(String[] args) {
        SpringApplication.run(Rootling.class, args);
    }
}
