using System.Reflection;
using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Compounds;
using Derivid.Core.Practice.Decisions;

namespace Derivid.Cli.Tests;

/// <summary>
/// Whoever speaks to the service over HTTP knows of the laboratory what goes over the wire, and how it writes figures
/// and decisions for people, and nothing else.
/// </summary>
public sealed class WireTypesTests
{
    private static readonly Assembly Laboratory = typeof(Parent).Assembly;

    [Fact]
    public void ClientAndCommandLineUseOnlyWireTypesOfCore()
    {
        var wire = OnTheWire();

        Assert.Contains("Derivid.Core.Compounds.ParentKind", wire);
        Assert.DoesNotContain("Derivid.Core.Ranking.IdentificationEngine", wire);
        Assert.Empty(UsedOfCore(typeof(DerividClient).Assembly).Except(wire));
        Assert.Equal([typeof(Figure).FullName!, typeof(DecisionWords).FullName!], UsedOfCore(typeof(Tool).Assembly).Except(wire).Order(StringComparer.Ordinal));
    }

    // The types of Core in the public members of the wire records, and those in the members of these.
    private static HashSet<string> OnTheWire()
    {
        var found = new HashSet<Type>();
        var open = new Queue<Type>(typeof(WireJson).Assembly.GetExportedTypes());
        while (open.TryDequeue(out var type))
        {
            foreach (var part in type.GetProperties()
                .SelectMany(property => Parts(property.PropertyType).Append(property.DeclaringType!)))
            {
                if (part.Assembly == Laboratory && found.Add(part))
                {
                    open.Enqueue(part);
                }
            }
        }

        return [.. found.Select(type => type.FullName!)];
    }

    private static IEnumerable<Type> Parts(Type type) =>
        type.HasElementType ? Parts(type.GetElementType()!) : [type, .. type.GenericTypeArguments.SelectMany(Parts)];

    private static List<string> UsedOfCore(Assembly assembly)
    {
        using var file = new PEReader(File.OpenRead(assembly.Location));
        var metadata = file.GetMetadataReader();
        return
        [
            .. metadata.TypeReferences.Select(metadata.GetTypeReference)
                .Where(type => type.ResolutionScope.Kind == HandleKind.AssemblyReference
                    && metadata.GetString(metadata.GetAssemblyReference((AssemblyReferenceHandle)type.ResolutionScope).Name)
                        == Laboratory.GetName().Name)
                .Select(type => $"{metadata.GetString(type.Namespace)}.{metadata.GetString(type.Name)}"),
        ];
    }
}
