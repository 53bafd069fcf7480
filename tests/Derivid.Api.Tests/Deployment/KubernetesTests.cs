using System.Text.RegularExpressions;
using Derivid.Api.Operating;
using k8s.Models;

namespace Derivid.Api.Tests.Deployment;

/// <summary>The manifests in deploy/kubernetes are well formed, and fit each other and the service.</summary>
public sealed partial class KubernetesTests(SqliteService service)
{
    private readonly List<object> _objects = DeployFiles.Manifests();

    private V1Deployment Deployment => Only<V1Deployment>();

    private IEnumerable<V1PodSpec> Pods =>
    [
        Deployment.Spec.Template.Spec,
        Only<V1Job>().Spec.Template.Spec,
        Only<V1CronJob>().Spec.JobTemplate.Spec.Template.Spec,
    ];

    private IEnumerable<V1Container> Containers => Pods.SelectMany(pod => pod.Containers);

    [Fact]
    public void KustomizationTakesEveryManifest()
    {
        var kustomization = DeployFiles.Yaml("deploy/kustomization.yaml");
        var script = Assert.Single((List<object>)((Dictionary<object, object>)Assert.Single((List<object>)kustomization["configMapGenerator"]))["files"]);

        Assert.Equal(DeployFiles.ManifestNames(), ((List<object>)kustomization["resources"]).Cast<string>().Order(StringComparer.Ordinal));
        Assert.True(File.Exists(Path.Combine(DeployFiles.Folder, (string)script)));
    }

    [Fact]
    public void SettingsNamedAreSettingsOfTheService()
    {
        var shared = Only<V1ConfigMap>();
        var ofTheImage = Containers.Where(container => container.Image == "derivid").ToList();

        Assert.Equal(2, ofTheImage.Count);
        foreach (var container in ofTheImage)
        {
            var variables = container.Env.ToDictionary(variable => variable.Name, variable => variable.Value ?? "");
            foreach (var source in container.EnvFrom ?? [])
            {
                Assert.Equal(shared.Metadata.Name, source.ConfigMapRef.Name);
                shared.Data.ToList().ForEach(setting => variables.Add(setting.Key, setting.Value));
            }

            Assert.Contains("ConnectionStrings__Derivid", variables.Keys);
            Assert.Empty(SettingsAskedFor.Ignored(variables));
        }
    }

    [Fact]
    public async Task ProbesAreAnswered()
    {
        var container = Assert.Single(Deployment.Spec.Template.Spec.Containers);
        var port = Assert.Single(container.Ports, port => port.Name == "http");
        V1Probe[] probes = [container.StartupProbe, container.ReadinessProbe, container.LivenessProbe];

        Assert.Equal(["/health/live", "/health/ready", "/health/live"], probes.Select(probe => probe.HttpGet.Path));
        Assert.All(probes, probe => Assert.Equal(port.Name, probe.HttpGet.Port.Value));
        Assert.Equal(port.Name, Assert.Single(Only<V1Service>().Spec.Ports).TargetPort.Value);
        Assert.Contains($"ASPNETCORE_HTTP_PORTS={port.ContainerPort} ", DeployFiles.Text("deploy/Dockerfile"), StringComparison.Ordinal);
        foreach (var probe in probes)
        {
            using var response = await service.Client.GetAsync(probe.HttpGet.Path, TestContext.Current.CancellationToken);
            Assert.True(response.IsSuccessStatusCode);
        }
    }

    [Fact]
    public void MetricsAreToldWhereTheAnnotationsSayAndNoServiceLeadsThere()
    {
        var pod = Deployment.Spec.Template;
        var port = Assert.Single(pod.Spec.Containers[0].Ports, port => port.Name == "metrics");
        var number = $"{port.ContainerPort}";

        Assert.Equal(number, Only<V1ConfigMap>().Data["Telemetry__MetricsPort"]);
        Assert.Equal(number, pod.Metadata.Annotations["prometheus.io/port"]);
        Assert.Equal(MetricsServer.Path, pod.Metadata.Annotations["prometheus.io/path"]);
        Assert.DoesNotContain(Only<V1Service>().Spec.Ports, each => each.TargetPort.Value == port.Name || each.TargetPort.Value == number);
        Assert.Single(Only<V1NetworkPolicy>().Spec.Ingress, rule => rule.Ports.Any(each => each.Port.Value == port.Name));
    }

    [Fact]
    public void UpgradeNeverLeavesFewerInstancesThanAsked()
    {
        Assert.True(Deployment.Spec.Replicas >= 2);
        Assert.Equal("0", Deployment.Spec.Strategy.RollingUpdate.MaxUnavailable.Value);
        Assert.Equal("1", Only<V1PodDisruptionBudget>().Spec.MinAvailable.Value);
        Assert.Equal(["--migrate"], Only<V1Job>().Spec.Template.Spec.Containers[0].Args);
    }

    [Fact]
    public void SelectorsFindTheInstances()
    {
        var labels = Deployment.Spec.Template.Metadata.Labels;

        Assert.All(
            new[]
            {
                Deployment.Spec.Selector.MatchLabels,
                Only<V1Service>().Spec.Selector,
                Only<V1PodDisruptionBudget>().Spec.Selector.MatchLabels,
                Only<V1NetworkPolicy>().Spec.PodSelector.MatchLabels,
                Assert.Single(Deployment.Spec.Template.Spec.TopologySpreadConstraints).LabelSelector.MatchLabels,
            },
            selector => Assert.Subset(labels.ToHashSet(), selector.ToHashSet()));

        // Or the service would send requests to the migration.
        Assert.False(Only<V1Service>().Spec.Selector.ToHashSet().IsSubsetOf(Only<V1Job>().Spec.Template.Metadata.Labels));
    }

    [Fact]
    public void PodsMayDoAsLittleAsTheRestrictedStandardAsks()
    {
        Assert.All(Pods, pod =>
        {
            Assert.True(pod.SecurityContext.RunAsNonRoot);
            Assert.Equal("RuntimeDefault", pod.SecurityContext.SeccompProfile.Type);
            Assert.False(pod.AutomountServiceAccountToken);
        });
        Assert.All(Containers, container =>
        {
            Assert.False(container.SecurityContext.AllowPrivilegeEscalation);
            Assert.True(container.SecurityContext.ReadOnlyRootFilesystem);
            Assert.Equal(["ALL"], container.SecurityContext.Capabilities.Drop);
            Assert.Contains("memory", container.Resources.Limits.Keys);
        });
    }

    [Fact]
    public void SecretsAreNamedInTheReadmeAndGivenNowhere()
    {
        var secret = Containers.SelectMany(container => container.Env)
            .Where(variable => variable.ValueFrom is not null || SecretName().IsMatch(variable.Name)).ToList();

        Assert.Empty(_objects.OfType<V1Secret>());
        Assert.Equal(4, secret.Count);
        Assert.All(secret, variable =>
        {
            Assert.Null(variable.Value);
            Assert.Equal("derivid", variable.ValueFrom.SecretKeyRef.Name);
            Assert.Contains(
                $"--from-literal={variable.ValueFrom.SecretKeyRef.Key}=", DeployFiles.Text("deploy/README.md"), StringComparison.Ordinal);
        });
    }

    [Fact]
    public void BackupRunsTheScriptWithTheProgramsOfTheServersVersion()
    {
        var pod = Only<V1CronJob>().Spec.JobTemplate.Spec.Template.Spec;
        var compose = (Dictionary<object, object>)DeployFiles.Yaml("docker-compose.yml")["services"];
        var script = pod.Volumes.Single(volume => volume.ConfigMap is not null);

        Assert.Equal((string)compose.Mapping("database")["image"], pod.Containers[0].Image);
        Assert.Contains(
            pod.Containers[0].VolumeMounts,
            mount => mount.Name == script.Name && pod.Containers[0].Command.Contains(mount.MountPath + "/backup.sh"));
    }

    private T Only<T>() => Assert.Single(_objects.OfType<T>());

    [GeneratedRegex("PASSWORD|Password|AdministratorKey")]
    private static partial Regex SecretName();
}
