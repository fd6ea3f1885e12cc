package org.rootling.work.calc;

import static org.rootling.work.calc.Orders.MONDAY;
import static org.rootling.work.calc.Orders.helper;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * Instances of PSPLIB's set j30 (Kolisch and Sprecher 1997, "PSPLIB - A project scheduling problem library", European Journal
 * of Operational Research 96: 205-216) in which each job asks for one of four resources. Jobs, horizon and MPM-Time are those
 * of the files j301_1.sm, j301_2.sm, j3017_1.sm and j3033_1.sm, compared with the copies in google/or-tools,
 * examples/data/rcpsp/single_mode; the shortest lengths are PSPLIB's, from ptal/kobe-scheduling,
 * data/rcpsp/j30.sm/optimum/optimum.csv.
 *
 * @param capacity of the resources 1 to 4
 * @param horizon the file's: all durations together
 * @param criticalPath the file's MPM-Time: the length if resources were no matter
 * @param optimum the shortest length of work that is not interrupted
 * @param jobs each: number, duration, resource, amount, and the jobs before it; the dummies 1 and 32 left out
 */
@SuppressWarnings("ArrayRecordComponent")
record PublishedProject(String name, int[] capacity, int horizon, int criticalPath, int optimum, int[][] jobs) {
    @Override
    public String toString() {
        return name;
    }

    /**
     * The instance on days of a quarter hour: each resource is so many people with the skill of its name, and each job needs
     * its amount of them at once.
     */
    WorkOrder order() {
        List<Helper> helpers = new ArrayList<>();
        for (int k = 0; k < capacity.length; k++) {
            for (int p = 0; p < capacity[k]; p++) {
                helpers.add(helper("r" + k + "-" + p, 1, "R" + (k + 1)));
            }
        }
        List<Job> list = new ArrayList<>();
        for (int[] j : jobs) {
            List<String> after = Arrays.stream(j).skip(4).mapToObj(b -> "j" + b).toList();
            list.add(new Job("j" + j[0], j[1] * j[3], j[3], j[3], "R" + j[2], null, after, 0, null, null, 1, null));
        }
        return new WorkOrder(MONDAY, helpers, List.of(), list, List.of());
    }

    static List<PublishedProject> all() {
        return List.of(
                new PublishedProject("J301_1", new int[] {12, 13, 4, 12}, 158, 38, 43, new int[][] {
                    {2, 8, 1, 4},
                    {3, 4, 1, 10},
                    {4, 6, 4, 3},
                    {5, 3, 1, 3, 4},
                    {6, 8, 4, 8, 2},
                    {7, 5, 1, 4, 3},
                    {8, 9, 2, 1, 3},
                    {9, 2, 1, 6, 4},
                    {10, 7, 4, 1, 4},
                    {11, 9, 2, 5, 2},
                    {12, 2, 2, 7, 8},
                    {13, 6, 1, 4, 3},
                    {14, 3, 2, 8, 9, 12},
                    {15, 9, 1, 3, 2},
                    {16, 10, 4, 5, 10},
                    {17, 6, 4, 8, 13, 14},
                    {18, 5, 4, 7, 13},
                    {19, 3, 2, 1, 8},
                    {20, 7, 2, 10, 5, 11, 18},
                    {21, 2, 4, 6, 16},
                    {22, 7, 1, 2, 16, 17, 18},
                    {23, 2, 1, 3, 20, 22},
                    {24, 3, 2, 9, 19, 23},
                    {25, 3, 1, 4, 10, 15, 20},
                    {26, 7, 3, 4, 11},
                    {27, 8, 4, 7, 7, 8},
                    {28, 3, 2, 8, 21, 27},
                    {29, 7, 2, 7, 19},
                    {30, 2, 2, 7, 6, 24, 25},
                    {31, 2, 3, 2, 26, 28}
                }),
                new PublishedProject("J301_2", new int[] {14, 10, 11, 14}, 160, 42, 47, new int[][] {
                    {2, 2, 3, 2},
                    {3, 10, 2, 8},
                    {4, 7, 3, 7},
                    {5, 1, 1, 8, 3},
                    {6, 3, 4, 8, 5},
                    {7, 6, 3, 5, 4},
                    {8, 2, 2, 9, 7},
                    {9, 10, 4, 2, 3},
                    {10, 5, 1, 1, 2},
                    {11, 9, 1, 2, 7},
                    {12, 4, 3, 6, 10},
                    {13, 4, 2, 5, 4, 6},
                    {14, 2, 3, 10, 9},
                    {15, 4, 4, 10, 3},
                    {16, 10, 1, 10, 6},
                    {17, 10, 3, 7, 5},
                    {18, 7, 1, 5, 6},
                    {19, 10, 4, 7, 7},
                    {20, 7, 3, 3, 16},
                    {21, 2, 2, 7, 11, 15, 17},
                    {22, 1, 1, 10, 10},
                    {23, 2, 1, 8, 18},
                    {24, 2, 4, 8, 12},
                    {25, 2, 4, 7, 13, 14, 19},
                    {26, 9, 1, 7, 11, 16, 17},
                    {27, 1, 4, 1, 8, 22, 26},
                    {28, 4, 1, 8, 9},
                    {29, 7, 2, 3, 17, 22, 24},
                    {30, 8, 3, 8, 25, 27, 28},
                    {31, 9, 2, 6, 20, 21, 23}
                }),
                new PublishedProject("J3017_1", new int[] {10, 11, 13, 12}, 181, 45, 64, new int[][] {
                    {2, 5, 4, 9},
                    {3, 2, 1, 9},
                    {4, 5, 4, 3},
                    {5, 8, 4, 10, 2},
                    {6, 8, 3, 7, 4},
                    {7, 9, 4, 10, 6},
                    {8, 6, 3, 8, 4},
                    {9, 1, 1, 10, 6},
                    {10, 10, 3, 10, 5, 7},
                    {11, 2, 3, 5, 9},
                    {12, 2, 2, 9, 2},
                    {13, 7, 2, 5, 3},
                    {14, 5, 2, 2, 3, 12},
                    {15, 10, 4, 9, 2},
                    {16, 9, 2, 8, 6, 15},
                    {17, 8, 3, 6, 9},
                    {18, 9, 4, 6, 7, 8, 11},
                    {19, 10, 4, 8, 9, 12, 16},
                    {20, 8, 3, 10, 4},
                    {21, 6, 2, 10, 13},
                    {22, 3, 3, 2, 10, 15},
                    {23, 10, 2, 5, 5, 14, 21},
                    {24, 1, 1, 8, 10, 17, 18},
                    {25, 5, 4, 7, 13, 19, 20},
                    {26, 4, 2, 7, 10, 16, 17},
                    {27, 7, 1, 4, 7, 15},
                    {28, 8, 2, 8, 24, 26, 27},
                    {29, 2, 1, 3, 12, 13, 18},
                    {30, 1, 3, 7, 23, 25, 28},
                    {31, 10, 4, 6, 17, 20, 22}
                }),
                new PublishedProject("J3033_1", new int[] {10, 7, 12, 10}, 193, 62, 65, new int[][] {
                    {2, 3, 4, 9},
                    {3, 8, 4, 7},
                    {4, 4, 2, 7},
                    {5, 4, 2, 3, 4},
                    {6, 6, 3, 9, 4},
                    {7, 5, 3, 3, 6},
                    {8, 7, 1, 10, 3, 6},
                    {9, 2, 3, 7, 8},
                    {10, 5, 3, 7, 8},
                    {11, 1, 1, 1, 9},
                    {12, 9, 3, 5, 2, 4},
                    {13, 9, 4, 5, 3, 7, 12},
                    {14, 5, 1, 9, 5, 9, 13},
                    {15, 10, 4, 3, 9, 10},
                    {16, 8, 3, 8, 2},
                    {17, 10, 4, 1, 11, 12},
                    {18, 2, 4, 7, 5, 7, 17},
                    {19, 8, 4, 4, 8, 12, 16},
                    {20, 8, 2, 5, 10, 13, 19},
                    {21, 9, 2, 4, 15, 16, 18},
                    {22, 1, 3, 2, 3, 5, 7},
                    {23, 3, 1, 3, 10, 17, 19},
                    {24, 7, 1, 3, 14, 18, 20},
                    {25, 10, 3, 3, 11, 15},
                    {26, 6, 4, 9, 2, 22, 25},
                    {27, 5, 4, 7, 18, 23, 26},
                    {28, 10, 3, 4, 19, 22, 25},
                    {29, 10, 4, 9, 20, 26, 28},
                    {30, 10, 1, 2, 13, 26, 28},
                    {31, 8, 2, 2, 21, 24, 27}
                }));
    }
}
