package org.rootling;

import org.rootling.platform.db.BackupCommand;
import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.context.annotation.FullyQualifiedAnnotationBeanNameGenerator;

/** Starts Rootling, or keeps or puts back its database. */
@SpringBootApplication(nameGenerator = FullyQualifiedAnnotationBeanNameGenerator.class)
public class Rootling {

    public static void main(String[] args) {
        if (BackupCommand.is(args)) {
            System.exit(BackupCommand.run(args, System.out));
        }
        SpringApplication.run(Rootling.class, args);
    }
}
