import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { parse } from "yaml";
import { PROGRAM, workFolder } from "../../support/cli.ts";

interface Container {
  readonly name: string;
  readonly image: string;
  readonly command: readonly string[];
  readonly env: readonly { readonly name: string; readonly value: string }[];
  readonly volumeMounts: readonly { readonly name: string; readonly mountPath: string }[];
}

const text = readFileSync(new URL("indexed-job.yaml", import.meta.url), "utf8");
const job = parse(text) as {
  apiVersion: string;
  kind: string;
  metadata: { name: string };
  spec: {
    completionMode: string;
    completions: number;
    parallelism: number;
    backoffLimit: number;
    template: {
      spec: { restartPolicy: string; containers: Container[]; volumes: { name: string }[] };
    };
  };
};
const pod = job.spec.template.spec;
const [container] = pod.containers;

/** Fields of a JobSpec. Source: Kubernetes API batch/v1, OpenAPI document apis__batch__v1, schema io.k8s.api.batch.v1.JobSpec. */
const JOB_SPEC = [
  "activeDeadlineSeconds",
  "backoffLimit",
  "backoffLimitPerIndex",
  "completionMode",
  "completions",
  "managedBy",
  "manualSelector",
  "maxFailedIndexes",
  "parallelism",
  "podFailurePolicy",
  "podReplacementPolicy",
  "selector",
  "successPolicy",
  "suspend",
  "template",
  "ttlSecondsAfterFinished",
];

/** Those fields of a pod and of a container that a manifest like this may have need of. Source: Kubernetes API v1, from memory. */
const POD_SPEC = ["restartPolicy", "containers", "volumes", "nodeSelector", "tolerations", "securityContext"];
const CONTAINER = [
  "name",
  "image",
  "workingDir",
  "env",
  "command",
  "args",
  "resources",
  "volumeMounts",
  "imagePullPolicy",
];

describe("the Indexed Job", () => {
  test("has the fields of batch/v1 and no others, with what the API asks of an indexed job", () => {
    expect(Object.keys(job).sort()).toEqual(["apiVersion", "kind", "metadata", "spec"]);
    expect([job.apiVersion, job.kind]).toEqual(["batch/v1", "Job"]);
    for (const key of Object.keys(job.spec)) expect(JOB_SPEC).toContain(key);
    for (const key of Object.keys(pod)) expect(POD_SPEC).toContain(key);
    for (const key of Object.keys(container)) expect(CONTAINER).toContain(key);
    // "When value is `Indexed`, .spec.completions must be specified and .spec.parallelism must be at most 10^5."
    expect(job.spec.completionMode).toBe("Indexed");
    expect(Number.isInteger(job.spec.completions) && job.spec.completions > 0).toBe(true);
    expect(Number.isInteger(job.spec.parallelism) && job.spec.parallelism <= job.spec.completions).toBe(true);
    expect(Number.isInteger(job.spec.backoffLimit)).toBe(true);
    // "The only allowed template.spec.restartPolicy values are Never or OnFailure."
    expect(["Never", "OnFailure"]).toContain(pod.restartPolicy);
    // Names are DNS labels (RFC 1123).
    for (const name of [job.metadata.name, container.name, ...pod.volumes.map((volume) => volume.name)]) {
      expect(name).toMatch(/^[a-z0-9]([-a-z0-9]{0,61}[a-z0-9])?$/);
    }
  });

  test("mounts only volumes that it has, and values of variables are text", () => {
    const volumes = pod.volumes.map((volume) => volume.name);
    for (const { name } of container.volumeMounts) expect(volumes).toContain(name);
    for (const { value } of container.env) expect(typeof value).toBe("string");
  });

  test("tells its shards by their number, and the first and last index name shard 1 and the last one", () => {
    const env = Object.fromEntries(container.env.map(({ name, value }) => [name, value]));
    expect(Number(env.SHARDS)).toBe(job.spec.completions);
    const folder = workFolder();
    const [shell, flag, script] = container.command;
    for (const index of [0, job.spec.completions - 1]) {
      // The command as the pod would run it, with its paths moved into a folder of the test and few samples.
      const moved = script
        .replace("/opt/seatspread/seatspread.js", PROGRAM)
        .replace("/scenario/scenario.yaml", join(folder, "scenarios/laminating-roller.yaml"))
        .replace("/results", folder);
      const { status, stdout } = spawnSync(shell, [flag, moved], {
        encoding: "utf8",
        env: { ...process.env, ...env, SAMPLES: "2000", JOB_COMPLETION_INDEX: String(index) },
      });
      expect(status).toBe(0);
      expect(stdout).toContain(`Shard ${index + 1} of ${job.spec.completions}`);
    }
  });
});
