using Derivid.Core.Compounds;
using Derivid.Core.SpotTests;
using Derivid.Core.Structures;

namespace Derivid.Core.Ranking;

/// <summary>A partition of the parents, such as by being alike in all but figures.</summary>
/// <remarks>Built once a table version; immutable.</remarks>
internal sealed class ParentClasses
{
    private readonly int[] _of;
    private readonly int[] _examples;
    private readonly double[] _sizes;

    private ParentClasses(int[] of, int[] examples, double[] sizes) => (_of, _examples, _sizes) = (of, examples, sizes);

    /// <summary>How many classes there are.</summary>
    public int Count => _examples.Length;

    /// <summary>The class of each parent. Shape: one a parent, in snapshot order.</summary>
    public ReadOnlySpan<int> Of => _of;

    /// <summary>The first parent of each class.</summary>
    public ReadOnlySpan<int> Examples => _examples;

    /// <summary>How many parents are in each class.</summary>
    public ReadOnlySpan<double> Sizes => _sizes;

    /// <summary>Adds numbers up by class.</summary>
    /// <param name="each">Shape: one a parent, in snapshot order.</param>
    /// <returns>Shape: one a class.</returns>
    public double[] Sums(ReadOnlySpan<double> each)
    {
        var sums = new double[Count];
        for (var parent = 0; parent < each.Length; parent++)
        {
            sums[_of[parent]] += each[parent];
        }

        return sums;
    }

    /// <summary>Takes a partition as it is.</summary>
    /// <param name="members">The parents of each class. Shape: every parent in one of them; none is empty.</param>
    public static ParentClasses OfMembers(IReadOnlyList<int[]> members)
    {
        var of = new int[members.Sum(own => own.Length)];
        for (var i = 0; i < members.Count; i++)
        {
            foreach (var parent in members[i])
            {
                of[parent] = i;
            }
        }

        return new ParentClasses(of, [.. members.Select(own => own.Min())], [.. members.Select(own => (double)own.Length)]);
    }

    /// <summary>Parts the parents of a table by all but figures: by structure, as far as the table's rules see it, by colours recorded and by how common they are.</summary>
    /// <remarks>
    /// Spot tests, colours, elements and the prior weigh parents of one such class alike, so that they are weighed once a class; there are
    /// some hundreds of classes, however many parents.
    /// </remarks>
    /// <param name="table">The table.</param>
    /// <param name="parents">Its parents, in snapshot order.</param>
    /// <param name="features">Their features, in the same order.</param>
    public static ParentClasses Alike(ReferenceTable table, IReadOnlyList<Parent> parents, IReadOnlyList<StructureFeature> features)
    {
        // A parent that a rule names answers in its own way.
        var named = table.Responses.Select(row => RespondingClass.ParentOf(row.AppliesTo)).OfType<string>().ToHashSet(StringComparer.Ordinal);
        var coloured = table.Derivatives.Where(record => record.ColourKey is not null).ToLookup(
            record => record.ParentKey, record => $"{record.KindKey} {record.ColourKey}", StringComparer.Ordinal);
        var places = new Dictionary<(StructureFeature, Commonness?, string?, string), int>();
        var (of, examples, sizes) = (new int[parents.Count], new List<int>(), new List<double>());
        for (var parent = 0; parent < of.Length; parent++)
        {
            var (key, commonness) = (parents[parent].Key, parents[parent].Commonness);
            var alike = (features[parent], commonness, named.Contains(key) ? key : null, string.Join(';', coloured[key]));
            if (!places.TryGetValue(alike, out of[parent]))
            {
                places[alike] = of[parent] = places.Count;
                examples.Add(parent);
                sizes.Add(0);
            }

            sizes[of[parent]]++;
        }

        return new ParentClasses(of, [.. examples], [.. sizes]);
    }
}
