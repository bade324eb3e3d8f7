## Cambiarlo o esperar. Necesita la revisión de una persona de habla nativa.

decision-title = ¿Cambiarlo o esperar?
decision-lead = Todo tanque termina por gotear. Esta página pone las probabilidades y el dinero lado a lado. Usted decide.
decision-open-first = Primero abra su casa. Entonces esta página puede comparar el dinero para su propio calentador.
decision-open = Abrir mi casa
decision-answer = Cuéntenos más sobre su calentador
decision-refused-no-age = Sin una edad no hay respuesta. La placa de datos del calentador tiene una fecha. Díganos esa fecha y vuelva.
decision-refused-no-tank = Usted tiene un calentador sin tanque. No hay tanque que pueda gotear. Esta página no tiene respuesta para él.
decision-refused-no-lives = Todavía no hay con qué calcular. Vuelva cuando la encuesta conozca su casa.
decision-leak-first = Su registro dice que hay agua sobre el calentador o debajo de él. Primero averigüe de dónde viene. Un tanque que gotea por su pared ya terminó: ninguna cuenta de esta página lo salva.

decision-verdict-replace = Cámbielo
decision-verdict-your-call = Usted decide
decision-verdict-wait = Espere

decision-says-replace = El dinero dice: cámbielo ahora. En unos { $share } de 100 casos eso cuesta menos que esperar.
decision-says-your-call = El dinero no lo resuelve: usted decide. En unos { $share } de 100 casos cuesta menos cambiarlo ahora. En los demás cuesta menos esperar.
decision-says-wait = El dinero dice: espere. En unos { $share } de 100 casos eso cuesta menos que cambiarlo ahora.
decision-offer-replace = El dinero dice: acepte el precio de { $offer }. En unos { $share } de 100 casos eso cuesta menos que conservar el calentador.
decision-offer-your-call = El dinero no lo resuelve: usted decide. En unos { $share } de 100 casos cuesta menos aceptar el precio de { $offer }. En los demás cuesta menos conservar el calentador.
decision-offer-wait = El dinero dice: conserve el calentador. En unos { $share } de 100 casos eso cuesta menos que aceptar el precio de { $offer }.
decision-cases = Nadie sabe con certeza cuánto duran los calentadores aquí. Por eso probamos muchas respuestas probables. Cada una es un caso.

decision-chance = De 100 calentadores como el suyo, unos { $mean } fallan en los próximos 12 meses. Pueden ser solo { $low } o hasta { $high }.
decision-average = El promedio aquí es de unos { $average } de 100.
decision-less-than-one = menos de 1

decision-neutral-head = Solo por el dinero
decision-personal-head = Según cómo se siente usted con el riesgo
decision-verdict-line = **{ $verdict }.**
decision-gain-now = Cambiarlo ahora, y no dentro de un año, ahorra unos { $usd } en promedio.
decision-gain-wait = Esperar un año, y entonces cambiarlo, ahorra unos { $usd } en promedio.
decision-gain-range = En 90 de 100 casos, la ganancia de cambiarlo ahora está entre { $low } y { $high }. Un signo menos quiere decir que esperar es más barato.
decision-offer-gain-now = Aceptar el precio ahorra unos { $usd } en promedio. Eso es frente a conservar el calentador todo el tiempo que convenga.
decision-offer-gain-wait = Conservar el calentador todo el tiempo que convenga ahorra unos { $usd } en promedio. Eso es frente a aceptar el precio.
decision-offer-gain-range = En 90 de 100 casos, la ganancia de aceptarlo está entre { $low } y { $high }. Un signo menos quiere decir que conservar el calentador es más barato.
decision-offer-age = El precio conviene desde una edad de unos { $age } años.
decision-offer-age-never = El precio no conviene a ninguna edad.
decision-age = La mejor edad para cambiarlo es de unos { $age } años. Puede ser de { $low } a { $high }.
decision-age-open = La mejor edad para cambiarlo es de unos { $age } años. Puede ser { $low }, o más tarde, o nunca.
decision-age-never = No hay una edad que sea mejor que esperar hasta que falle.
decision-age-far = Hasta los { $age } años no hay una edad que sea mejor que esperar hasta que falle.
decision-failure = Una falla cuesta unos { $usd }, con el calentador nuevo incluido.
decision-personal-none = Conteste abajo la pregunta sobre el riesgo. Entonces su propia respuesta estará aquí.
decision-personal-same = Para usted, un dólar en riesgo vale como cualquier otro. Por eso su respuesta es la misma.
decision-personal-how = Usted pagaría unos { $pay } para librarse de una probabilidad de una en diez de una cuenta de { $bill }. Por eso, para usted una falla pesa como un costo seguro de { $felt }. El simple promedio es { $failure }.

decision-catch-head = Qué podría detener el agua
decision-catch-help = A menudo es más barato detener el agua que cambiar el calentador. Cada línea dice qué cambiaría.
decision-catch-none = Usted ya tiene lo mejor de lo que podemos comparar. Nada de aquí bajaría más el daño.
decision-table-what = Lo que tiene o agrega
decision-table-failure = Entonces una falla cuesta
decision-table-neutral = Solo por el dinero
decision-table-personal = Su propia respuesta
decision-table-worth = Ahorra en { $years } años, ya pagado su precio
decision-row-as-is = Como está ahora
decision-row-alarm = Agregar una alarma de fugas
decision-row-pan-drain-alarm = Tener una bandeja con desagüe, y una alarma
decision-row-shutoff = Agregar un cierre automático
decision-row-price = { $what } ({ $usd })
decision-row-nothing = –
decision-details-head = Todas las cifras

decision-household-head = Sobre su casa
decision-place-unknown = No sabemos dónde está su calentador. Por eso cada tipo de lugar cuenta un tercio: garaje, sótano, interior. Díganos dónde está, y la respuesta mejora.
decision-drained = ¿La bandeja debajo del calentador tiene un tubo a un desagüe?
decision-insured = ¿Su póliza paga el daño repentino por agua?
decision-insured-help = El daño por edad y óxido muchas veces no se paga. El daño repentino por agua muchas veces sí. Depende de su póliza: pregunte a su aseguradora antes de que pase. "No sé" cuenta como no.
decision-if-insured = Si su póliza sí paga, la respuesta solo por el dinero es: { $verdict }.
decision-days-empty = Días al año en que no hay nadie en casa
decision-days-empty-help = Una fuga que nadie ve hace más daño. Una alarma que nadie oye no sirve.
decision-yes = Sí
decision-no = No
decision-not-sure = No sé

decision-risk = Este año puede llegar una cuenta de { $bill }. La probabilidad es de 1 en 10. ¿Cuánto pagaría usted, como máximo, para librarse de ese riesgo?
decision-risk-neutral = { $usd }: ese es el promedio, y nada más
decision-risk-high = Unos { $usd }
decision-risk-middle = Unos { $usd }
decision-risk-low = Unos { $usd }, o más
decision-risk-skip = Prefiero no decirlo

decision-offer = Precio de grupo por un calentador nuevo ahora, en dólares (déjelo vacío si no hay)
decision-offer-help = El precio completo para su casa, con permiso, retiro del viejo e impuestos.

decision-amounts-head = Las cantidades: cambie lo que usted sabe mejor
decision-amounts-help = Lo que cambia aquí cambia su respuesta en esta pantalla. No se guarda. Nadie más lo ve.
decision-amount-range = Rango usual: { $low } a { $high }.
decision-amount-planned-price-usd = Calentador nuevo planeado, todo incluido, en dólares
    .from = Práctica común, sin fuente. Igual por igual, de 40 a 50 galones, con garantía de 9 o 12 años; unos $875 con 6 años. Uno de bomba de calor cuesta más. El precio típico del país es más alto: $2,245 de gas (dólares de 2023; NREL, Buildings Annual Technology Baseline).
    .from-heat-pump = Para uno de bomba de calor: el precio típico del país, de uno eficiente (dólares de 2023; NREL, Buildings Annual Technology Baseline).
decision-amount-emergency-premium-usd = Más por un trabajo urgente, en dólares
    .from = Un ejemplo, sin fuente. Una llamada urgente cuesta más. Pregunte a un contratista y ponga la cantidad.
decision-amount-leak-share = De 100 calentadores que fallan, cuántos gotean
    .from = Un estudio de reclamos de seguros (IBHS, cerca de 2007 a 2010), como lo citan las aseguradoras. Es viejo y solo tiene reclamos.
decision-amount-damage-chance-garage = De 100 fugas en un garaje o afuera, cuántas hacen daño
    .from = Un ejemplo, sin fuente. Ponga lo que usted piensa.
decision-amount-damage-usd-garage = Daño de una fuga así (garaje o afuera), en dólares
    .from = Un ejemplo, sin fuente. Ponga lo que usted piensa.
decision-amount-damage-chance-basement = De 100 fugas en un sótano, cuántas hacen daño
    .from = Un ejemplo, sin fuente. Ponga lo que usted piensa.
decision-amount-damage-usd-basement = Daño de una fuga así (sótano), en dólares
    .from = Un ejemplo, sin fuente. Ponga lo que usted piensa.
decision-amount-damage-chance-inside = De 100 fugas dentro de la casa, cuántas hacen daño
    .from = Un ejemplo, sin fuente. Dentro quiere decir un clóset, un piso alto o un ático.
decision-amount-damage-usd-inside = Daño de una fuga así (dentro), en dólares
    .from = Un ejemplo, sin fuente. Para comparar: las aseguradoras pagaron en promedio $4,444 por un calentador que falló, después del deducible (IBHS, cerca de 2005 a 2009, dólares viejos). Pagaron $11,098 por daño de agua de todo tipo (Insurance Information Institute, 2015 a 2019).
decision-amount-away-damage-factor = Cuántas veces peor es cuando no hay nadie
    .from = Un ejemplo, sin fuente. Ponga lo que usted piensa.
decision-amount-factor-pan = De $100 de daño, lo que queda con una bandeja sin desagüe
    .from = Un ejemplo, sin fuente. Una bandeja así guarda pocos galones.
decision-amount-factor-alarm = De $100 de daño, lo que queda con solo una alarma
    .from = Un ejemplo, sin fuente.
decision-amount-factor-pan-drain = De $100 de daño, lo que queda con bandeja y desagüe
    .from = Un ejemplo. La prueba es débil: no encontramos ningún ensayo.
decision-amount-factor-pan-drain-alarm = De $100 de daño, lo que queda con bandeja, desagüe y alarma
    .from = Un ejemplo. La prueba es débil: no encontramos ningún ensayo.
decision-amount-factor-shutoff = De $100 de daño, lo que queda con un cierre automático
    .from = Un ejemplo. La prueba es débil. Una aseguradora dijo en 2011 que hasta 93 de 100 dólares se podían evitar o reducir. Era su propio cálculo.
decision-amount-alarm-price-usd = Precio de una alarma de fugas, en dólares
    .from = Un ejemplo, sin fuente.
decision-amount-pan-drain-price-usd = Precio de una bandeja con desagüe, instalada, en dólares
    .from = Un ejemplo, sin fuente. Es más barata con un calentador nuevo.
decision-amount-shutoff-price-usd = Precio de un cierre automático, instalado, en dólares
    .from = Un ejemplo, sin fuente.
decision-amount-mitigation-lasts-years = Años que dura una cosa así
    .from = Un ejemplo, sin fuente.
decision-amount-discount-rate = Cuánto menos vale hoy el dinero de dentro de un año, en por ciento
    .from = Un ejemplo. Una herramienta del Departamento de Energía de los Estados Unidos usa 3.2 por ciento.
decision-amount-deductible-usd = Su deducible, en dólares
    .from = Un ejemplo, sin fuente. Su póliza dice cuánto es.

decision-rests-head = En qué se basa esto
decision-rests-local = Cuánto duran los calentadores: respuestas de este vecindario, con { $failures ->
    [one] un calentador que terminó
   *[other] { $failures } calentadores que terminaron
 }, y datos publicados. De lo que se sabe de la vida típica, unas { $weight } de 100 partes vienen de aquí.
decision-rests-prior = Cuánto duran los calentadores: solo datos publicados. Todavía hay muy pocas respuestas aquí.
decision-rests-age = La edad: de { $low } a { $high } años, en promedio.
decision-rests-age-sure = La edad: { $age } años.
decision-rests-inputs = Todas las cantidades de dinero: las de partida o las que usted puso. Cada una dice de dónde viene.
decision-rests-rule = "Cámbielo" quiere decir al menos 80 de 100 casos. "Espere" quiere decir 20 o menos. Todo lo que está en medio lo decide usted.
decision-not-head = Lo que no está incluido
decision-not-modeled =
    Lo que un calentador nuevo puede ahorrar en energía.
    Lo que las nuevas reglas de construcción pueden pedir cuando se cambia un calentador.
    La seguridad. El olor a gas o una válvula de alivio que se abrió nunca es cuestión de dinero.
    Las duchas frías, los días perdidos y la preocupación.
    Los precios que suben más rápido de lo que el dinero pierde valor.
    Lo que un lavado o un ánodo nuevo agrega a la vida: eso no está probado.
