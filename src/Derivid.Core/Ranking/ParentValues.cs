using System.Numerics.Tensors;

namespace Derivid.Core.Ranking;

/// <summary>A number for every parent of a snapshot, kept once a class where all of a class have the same.</summary>
/// <remarks>Default: none. Equality: not meant to be compared.</remarks>
public readonly struct ParentValues
{
    private readonly double[] _values;
    private readonly ParentClasses? _classes;

    private ParentValues(double[] values, ParentClasses? classes) => (_values, _classes) = (values, classes);

    /// <summary>The classes it is kept by. Missing: null, it is kept once a parent.</summary>
    internal ParentClasses? Classes => _classes;

    /// <summary>The numbers. Shape: one a class where it is kept so, else one a parent.</summary>
    internal ReadOnlySpan<double> Values => _values;

    /// <summary>Of one parent.</summary>
    /// <param name="parent">Its place in the snapshot.</param>
    public double this[int parent] => _values[_classes is null ? parent : _classes.Of[parent]];

    /// <summary>Takes one a parent.</summary>
    /// <param name="values">Shape: in snapshot order. Kept, not copied.</param>
    internal static ParentValues Each(double[] values) => new(values, null);

    /// <summary>Takes one a class.</summary>
    /// <param name="values">Shape: in the order of the classes. Kept, not copied.</param>
    /// <param name="classes">The classes.</param>
    internal static ParentValues OfClasses(double[] values, ParentClasses classes) => new(values, classes);

    /// <summary>Works one out a class.</summary>
    /// <param name="classes">The classes.</param>
    /// <param name="of">Of a class, by its number and its first parent.</param>
    internal static ParentValues OfClasses(ParentClasses classes, Func<int, int, double> of)
    {
        var values = new double[classes.Count];
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = of(i, classes.Examples[i]);
        }

        return new(values, classes);
    }

    /// <summary>Mean over all parents.</summary>
    public double Mean() => _classes is null
        ? TensorPrimitives.Sum<double>(_values) / _values.Length
        : TensorPrimitives.Dot(_values, _classes.Sizes) / _classes.Of.Length;

    /// <summary>The same, one a parent. Not to be changed.</summary>
    public double[] ToArray()
    {
        if (_classes is null)
        {
            return _values;
        }

        var all = new double[_classes.Of.Length];
        for (var parent = 0; parent < all.Length; parent++)
        {
            all[parent] = this[parent];
        }

        return all;
    }

    /// <summary>Works one out of two: by class where both are kept so.</summary>
    /// <param name="other">The other numbers.</param>
    /// <param name="of">Of a number and the other one.</param>
    internal ParentValues With(ParentValues other, Func<double, double, double> of)
    {
        var areByClass = _classes == other._classes;
        var (own, beside) = areByClass ? (_values, other._values) : (ToArray(), other.ToArray());
        var values = new double[own.Length];
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = of(own[i], beside[i]);
        }

        return new(values, areByClass ? _classes : null);
    }

    /// <summary>Multiplies numbers parent by parent: those kept by class once a class, the rest in one pass each.</summary>
    /// <param name="factors">The numbers.</param>
    /// <param name="scale">A factor of all.</param>
    /// <param name="classes">The classes.</param>
    /// <param name="product">Filled with the product. Shape: one a parent.</param>
    internal static void Multiply(IEnumerable<ParentValues> factors, double scale, ParentClasses classes, Span<double> product)
    {
        var byClass = new double[classes.Count];
        Array.Fill(byClass, scale);
        var each = new List<double[]>();
        foreach (var factor in factors)
        {
            if (factor._classes is not null)
            {
                TensorPrimitives.Multiply(byClass, factor._values, byClass);
            }
            else
            {
                each.Add(factor._values);
            }
        }

        var of = classes.Of;
        if (each.Count == 0)
        {
            for (var parent = 0; parent < product.Length; parent++)
            {
                product[parent] = byClass[of[parent]];
            }

            return;
        }

        var first = each[0];
        for (var parent = 0; parent < product.Length; parent++)
        {
            product[parent] = byClass[of[parent]] * first[parent];
        }

        foreach (var factor in each.Skip(1))
        {
            TensorPrimitives.Multiply(product, factor, product);
        }
    }
}
