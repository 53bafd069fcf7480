using Derivid.Testing;
using YamlDotNet.Core;
using YamlDotNet.Serialization;
using k8s;

namespace Derivid.Api.Tests.Deployment;

/// <summary>Finds and reads the files in deploy/ and docker-compose.yml.</summary>
internal static class DeployFiles
{
    /// <summary>The repository's top folder.</summary>
    public static string Top { get; } = RepositoryFiles.At();

    /// <summary>The folder of everything but docker-compose.yml.</summary>
    public static string Folder { get; } = Path.Combine(Top, "deploy");

    /// <summary>A file's text.</summary>
    /// <param name="name">Its path below the top folder.</param>
    public static string Text(string name) => File.ReadAllText(Path.Combine(Top, name));

    /// <summary>A YAML file's mapping, with merge keys resolved. Shape: text, list of object or mapping of object.</summary>
    /// <param name="name">Its path below the top folder.</param>
    public static Dictionary<string, object> Yaml(string name)
    {
        using var reader = new StringReader(Text(name));
        return new DeserializerBuilder().Build().Deserialize<Dictionary<string, object>>(
            new MergingParser(new Parser(reader)));
    }

    /// <summary>What is in a mapping.</summary>
    public static Dictionary<object, object> Mapping(this object mapping, string key) =>
        (Dictionary<object, object>)((Dictionary<object, object>)mapping)[key];

    /// <summary>The Kubernetes objects of all manifests; a field that Kubernetes doesn't know, or a repeated one, throws.</summary>
    public static List<object> Manifests() =>
        [.. ManifestNames().SelectMany(name => KubernetesYaml.LoadAllFromString(Text("deploy/" + name), strict: true))];

    /// <summary>The manifests' paths below deploy/, in order.</summary>
    public static IEnumerable<string> ManifestNames() =>
        Directory.GetFiles(Path.Combine(Folder, "kubernetes"))
            .Select(path => "kubernetes/" + Path.GetFileName(path)).Order(StringComparer.Ordinal);
}
