package org.rootling;

import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;

/** Starts Rootling. */
@SpringBootApplication
public class Rootling {

    public static void main(String[] args) {
        SpringApplication.run(Rootling.class, args);
    }
}
