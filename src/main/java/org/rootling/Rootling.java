package org.rootling;

import org.rootling.people.SignOutCommand;
import org.rootling.people.WayInCommand;
import org.rootling.platform.db.BackupCommand;
import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;
import org.springframework.context.annotation.FullyQualifiedAnnotationBeanNameGenerator;

/** Starts Rootling, or does one of the operator's commands: backup, restore, way-in, sign-out. */
@SpringBootApplication(nameGenerator = FullyQualifiedAnnotationBeanNameGenerator.class)
public class Rootling {

    public static void main(String[] args) {
        if (BackupCommand.is(args)) {
            System.exit(BackupCommand.run(args, System.out));
        }
        if (WayInCommand.is(args)) {
            System.exit(WayInCommand.run(args, System.out));
        }
        if (SignOutCommand.is(args)) {
            System.exit(SignOutCommand.run(args, System.out));
        }
        SpringApplication.run(Rootling.class, args);
    }
}
